"""Time that a design takes, by the number of its openings, and that its parts take."""

import sys
from collections.abc import Iterable
from pathlib import Path

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon, affinity

from peekpaper.demo.panel import svg_text
from peekpaper.design.alike import group_alike
from peekpaper.design.design import Limits, Reading
from peekpaper.design.make import make_design
from peekpaper.design.triangulation import triangulate_card
from peekpaper.drawing.read import read_drawing
from table import Row, peak_memory_mb, seconds

sys.path.insert(0, str(Path(__file__).parents[1]))

from panels import drawing_of

NODES_PER_OPENING = 100


def main() -> Iterable[Row]:
    """Yield a row for each figure."""
    yield from _demo()
    yield from _two_hundred()
    yield from _growth()
    yield from _alike()
    yield Row("design", "memory at most", peak_memory_mb(), "MB")


def _demo() -> Iterable[Row]:
    drawing = read_drawing(svg_text().encode(), 0.07)
    took, design = seconds(lambda: make_design(drawing, Reading(), Limits()))
    yield Row(
        "design", "the demo", took, "s", note=f"{len(design.openings)} openings, {len(design.bars)} bars"
    )


def _two_hundred() -> Iterable[Row]:
    card = MultiPolygon([panel_of(200)])
    openings = [Polygon(ring) for ring in card.geoms[0].interiors]
    nodes = shapely.get_num_coordinates(card)
    took, triangles = seconds(lambda: triangulate_card(card, openings, 0.5))
    note = f"{nodes:,} nodes, {len(triangles.points):,} when densified"
    yield Row("design", "triangles of 200 openings", took, "s", target=0.3, note=note)
    drawing = drawing_of(card)
    took, design = seconds(lambda: make_design(drawing, Reading(), Limits()))
    yield Row(
        "design",
        "200 openings in all",
        took,
        "s",
        target=1.0,
        note=f"{nodes:,} nodes, {len(design.bars)} bars",
    )


def _growth() -> Iterable[Row]:
    before = None
    for count in (250, 500, 1000, 2000):
        drawing = drawing_of(panel_of(count))
        took, _ = seconds(lambda drawing=drawing: make_design(drawing, Reading(), Limits()), repeats=2)
        yield Row("design", f"{count:,} openings", took, "s")
        if before is not None:
            yield Row("design", f"{count:,} openings to half as many", took / before, "times", target=2.4)
        before = took


def _alike() -> Iterable[Row]:
    blade = Polygon([(0, 0), (14, 0), (14, 3), (6, 5), (3, 9), (0, 8)])
    turned = [affinity.translate(affinity.rotate(blade, 7.3 * i), 20 * i, 0) for i in range(2000)]
    took, groups = seconds(lambda: group_alike(turned), repeats=2)
    yield Row("design", "2,000 alike openings, all turned", took, "s", note=f"{max(groups.same_size)} group")
    different = [Polygon(ring) for ring in panel_of(2000).interiors]
    took, groups = seconds(lambda: group_alike(different), repeats=1)
    yield Row("design", "2,000 different openings", took, "s", note=f"{max(groups.same_size)} groups")


def panel_of(count: int) -> Polygon:
    """A panel of `count` wavy openings, no two alike, 100 nodes each."""
    random = np.random.default_rng(count)
    columns = int(np.ceil(np.sqrt(count)))
    angles = np.linspace(0, 2 * np.pi, NODES_PER_OPENING, endpoint=False)
    orders = np.arange(2, 6)[:, None]
    holes = []
    for place in range(count):
        sizes, starts = random.uniform(0, 4, (4, 1)) / orders, random.uniform(0, 6, (4, 1))
        waves = (sizes * np.cos(orders * angles + starts)).sum(axis=0)
        radii = np.exp(waves / 4)
        radii *= 4.6 / radii.max()
        x, y = place % columns * 10 + 5, place // columns * 10 + 5
        holes.append(np.stack([x + radii * np.cos(angles), y + radii * np.sin(angles)], axis=1))
    side = columns * 10
    return Polygon([(-3, -3), (side + 3, -3), (side + 3, side + 3), (-3, side + 3)], holes)
