"""Time and size of what papers and projects take: suggestions, photos, files and links."""

import random
from collections.abc import Iterable
from dataclasses import replace

import numpy as np
import shapely

from peekpaper.demo.harbour import demo_project
from peekpaper.design.design import Bar, Design, Habit, Opening
from peekpaper.papers.colour import difference, differences
from peekpaper.papers.paper import Colourway
from peekpaper.papers.photo import papers_for_photo
from peekpaper.papers.picture import square_up
from peekpaper.papers.suggest import Wish, suggest
from peekpaper.pipeline import Pipeline
from peekpaper.project.document import from_json, new_project, to_json
from peekpaper.project.link import from_link, to_link
from peekpaper.project.project import Project
from peekpaper.project.start_shelf import start_shelf
from table import Row, peak_memory_mb, seconds


def main() -> Iterable[Row]:
    """Yield a row for each figure."""
    yield from _colours()
    yield from _suggestions()
    yield from _documents()
    yield from _pictures()


def _colours() -> Iterable[Row]:
    chance = random.Random(1)
    colours = [f"#{chance.randrange(1 << 24):06x}" for _ in range(40)]

    def matrix() -> None:
        difference.cache_clear()
        differences(colours)

    took, _ = seconds(matrix)
    yield Row("papers", "CIEDE2000 among 40 papers", took * 1000, "ms", note="780 pairs, nothing cached")


def _suggestions() -> Iterable[Row]:
    shelf, empty = start_shelf(), Colourway("c1", "")
    demo = Pipeline().design(demo_project())
    for name, design in (("the demo", demo), ("2,000 openings", _map_of(2000))):
        for count in (4, 6):
            took, suggestion = seconds(
                lambda design=design, count=count: suggest(design, shelf, empty, Wish(count, 1))
            )
            yield Row("papers", f"suggest {count} papers for {name}", took, "s", target=1.0)
            yield Row(
                "papers", f"what {count} papers leave unmet in {name}", len(suggestion.unmet), "", target=0
            )


def _map_of(count: int) -> Design:
    """A design of as many openings as neighbours on a random map, alike in groups of about four."""
    chance = np.random.default_rng(1)
    points = chance.random((count, 2)) * 300
    places = {tuple(point): place + 1 for place, point in enumerate(points)}
    groups = chance.integers(0, count // 4, count)
    openings = tuple(
        Opening(place + 1, shapely.box(x, y, x + 2, y + 2), int(group), int(group), None)
        for place, ((x, y), group) in enumerate(zip(points, groups, strict=True))
    )
    edges = shapely.delaunay_triangles(shapely.MultiPoint(points), only_edges=True).geoms
    bars = tuple(
        Bar(places[edge.coords[0]], places[edge.coords[1]], 2.0, edge, shapely.MultiPolygon())
        for edge in edges
    )
    card = shapely.MultiPolygon([shapely.box(0, 0, 300, 300)])
    return Design(300, 300, card, openings, bars, shapely.MultiPolygon(), (), (Habit.SOLIDS,), (), 1.0, False)


def _documents() -> Iterable[Row]:
    demo = demo_project()
    yield Row("project", "the demo's link", len(to_link(demo)), "characters", target=8_000)
    large = _large_project()
    yield Row("project", "link of 200 openings", len(to_link(large)), "characters", target=30_000)
    took, text = seconds(lambda: to_json(large))
    yield Row(
        "project", "write the file of 200 openings", took * 1000, "ms", note=f"{len(text):,} characters"
    )
    took, _ = seconds(lambda: from_json(text))
    yield Row("project", "read it", took * 1000, "ms")
    took, link = seconds(lambda: to_link(large))
    yield Row("project", "make its link", took * 1000, "ms")
    took, _ = seconds(lambda: from_link(link))
    yield Row("project", "open it", took * 1000, "ms")


def _large_project() -> Project:
    """200 openings of six random curves each (nothing repeats) in three random colourways."""
    chance = random.Random(7)
    paths = []
    for _ in range(200):
        curves = (" ".join(f"{chance.uniform(-30, 30):.1f}" for _ in range(6)) for _ in range(6))
        paths.append(f"M{chance.uniform(10, 900):.1f} {chance.uniform(10, 900):.1f}c{'c'.join(curves)}z")
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 960 960"><path d="{"".join(paths)}"/></svg>'
    ways = tuple(
        Colourway(f"c{way}", f"Colourway {way}", {n: f"p{chance.randrange(10) + 1}" for n in range(1, 201)})
        for way in range(3)
    )
    return replace(new_project("panel.svg", svg), colourways=ways)


def _pictures() -> Iterable[Row]:
    for width, height in ((4000, 3000), (8660, 5773)):
        photo = np.random.default_rng(1).integers(0, 256, (height, width, 4), dtype=np.uint8)
        corners = [(0.02 * width, 0.05 * height), (0.97 * width, 0.02 * height)]
        corners += [(0.94 * width, 0.98 * height), (0.06 * width, 0.93 * height)]
        name = f"a photo of {width * height / 1e6:.0f} megapixels"
        took, squared = seconds(lambda photo=photo, c=corners: square_up(photo, c, 2048, 2048), repeats=1)
        yield Row("papers", f"square up {name}", took, "s")
        took, _ = seconds(lambda squared=squared: papers_for_photo(start_shelf(), squared, 4))
        yield Row("papers", f"papers that suit {name}", took, "s", note="once squared")
    yield Row("papers", "memory at most", peak_memory_mb(), "MB", note="the photo of 50 megapixels is 200 MB")


if __name__ == "__main__":
    from table import table

    print(table(main()))
