"""The demo: the harbour panel for a library's notice board, opened with papers already chosen."""

from collections.abc import Mapping, Sequence

import shapely

from peekpaper.demo.panel import WIDTH, Part, parts, svg_text
from peekpaper.demo.papers import COLOURWAYS, SHELF
from peekpaper.design.design import Reading
from peekpaper.design.make import numbered_openings
from peekpaper.drawing.read import read_drawing
from peekpaper.papers.paper import Colourway
from peekpaper.project.project import Block, Look, PageLayout, Project, Source

_MM_PER_UNIT = 0.254
_TOLERANCE_PX = 0.07


def demo_project() -> Project:
    """Return the harbour panel as a project: shelf, three colourways and a page, nothing glued yet."""
    svg = svg_text()
    openings = numbered_openings(read_drawing(svg.encode(), _TOLERANCE_PX), Reading())
    numbers = part_numbers(tuple(parts()), openings)
    return Project(
        id="harbour-panel",
        name="Harbour panel",
        source=Source("harbour-panel.svg", svg),
        shelf=SHELF,
        colourways=tuple(
            Colourway(identity, name, _papers(numbers, papers)) for identity, name, papers in COLOURWAYS
        ),
        colourway=COLOURWAYS[0][0],
        look=Look(card_colour="#22304a", behind_colour="#f3ede2"),
        page=_page(),
    )


def part_numbers(drawn: Sequence[Part], openings: Sequence[shapely.Polygon]) -> dict[int, str]:
    """Return for each opening's number the name of its part; `openings` are in mm and in reading order."""
    rings = shapely.STRtree([opening.exterior for opening in openings])
    starts = [part.outline.start * _MM_PER_UNIT for part in drawn]
    _, nearest = rings.query_nearest([shapely.Point(start.real, start.imag) for start in starts])
    return {int(index) + 1: part.name for index, part in zip(nearest, drawn, strict=True)}


def _papers(numbers: Mapping[int, str], papers: Mapping[str, str]) -> dict[int, str]:
    return {number: papers[name] for number, name in sorted(numbers.items()) if name in papers}


def _page() -> PageLayout:
    """Return a 12 by 12 in page: the panel on the right, a photo, a title and a few lines on the left."""
    inch = 25.4
    return PageLayout(
        width_mm=12 * inch,
        height_mm=12 * inch,
        background="sailcloth",
        blocks=(
            Block("piece", 7.6 * inch, 6 * inch, WIDTH * _MM_PER_UNIT, 10 * inch),
            Block("photo", 1.85 * inch, 4.1 * inch, 2.5 * inch, 3.5 * inch, turn_deg=-2.0, mat_mm=4.0),
            Block("title", 1.85 * inch, 1.6 * inch, 2.8 * inch, 0.9 * inch, text="Down at the harbour"),
            Block(
                "writing", 1.85 * inch, 8.2 * inch, 2.6 * inch, 3.2 * inch,
                text="Summer reading starts here: stories of lamps, tides and far-off islands.",
            ),
        ),
    )  # fmt: skip
