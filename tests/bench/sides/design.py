"""Designs: the time by the number of openings, and that of the parts."""

from collections.abc import Iterator

import numpy as np
import shapely
from figure import Figure, seconds
from shapely import MultiPolygon, Polygon, affinity

from peekpaper.demo.panel import svg_text
from peekpaper.design.bars.triangulation import triangulate_card
from peekpaper.design.design import Limits, Reading
from peekpaper.design.make import make_design
from peekpaper.design.openings.alike import group_alike
from peekpaper.drawing.drawing import Contour, Drawing, Paint, PaintedShape
from peekpaper.drawing.read import read_drawing

NODES_PER_OPENING = 100
PX_PER_MM = 96 / 25.4


def figures() -> Iterator[Figure]:
    drawing = read_drawing(svg_text().encode(), 0.07)
    took, design = seconds(lambda: make_design(drawing, Reading(), Limits()))
    yield Figure("the demo", took, note=f"{len(design.openings)} openings, {len(design.bars)} bars")
    yield from _two_hundred()
    yield from _growth()
    yield from _alike()


def _two_hundred() -> Iterator[Figure]:
    card = MultiPolygon([panel_of(200)])
    openings = [Polygon(ring) for ring in card.geoms[0].interiors]
    nodes = shapely.get_num_coordinates(card)
    took, triangles = seconds(lambda: triangulate_card(card, openings, 0.5))
    note = f"{nodes:,} nodes, {len(triangles.points):,} when densified"
    yield Figure("triangles of 200 openings", took, native=0.3, note=note)
    drawing = _drawing_of(card)
    took, design = seconds(lambda: make_design(drawing, Reading(), Limits()))
    yield Figure("200 openings in all", took, native=1.0, note=f"{nodes:,} nodes, {len(design.bars)} bars")


def _growth() -> Iterator[Figure]:
    before = None
    for count in (250, 500, 1000, 2000):
        drawing = _drawing_of(MultiPolygon([panel_of(count)]))
        took, _ = seconds(lambda drawing=drawing: make_design(drawing, Reading(), Limits()), repeats=2)
        yield Figure(f"{count:,} openings", took)
        if before is not None:
            yield Figure(f"{count:,} openings to half as many", took / before, "times", 2.4, 2.4)
        before = took


def _alike() -> Iterator[Figure]:
    blade = Polygon([(0, 0), (14, 0), (14, 3), (6, 5), (3, 9), (0, 8)])
    turned = [affinity.translate(affinity.rotate(blade, 7.3 * i), 20 * i, 0) for i in range(2000)]
    took, groups = seconds(lambda: group_alike(turned), repeats=2)
    yield Figure("2,000 alike openings, all turned", took, note=f"{max(groups.same_size)} group")
    for count in (500, 1000, 2000):
        different = [Polygon(ring) for ring in panel_of(count).interiors]
        took, groups = seconds(lambda different=different: group_alike(different), repeats=1)
        yield Figure(f"{count:,} different openings told apart", took, note=f"{max(groups.same_size)} groups")


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


def _drawing_of(card: MultiPolygon) -> Drawing:
    """Return a drawing that fills the card (mm) black."""
    area = affinity.scale(card, PX_PER_MM, PX_PER_MM, origin=(0, 0))
    rings = [ring for part in area.geoms for ring in (part.exterior, *part.interiors)]
    contours = tuple(Contour(shapely.LineString(ring), True) for ring in rings)
    shape = PaintedShape(Paint(area, "#000000", 1.0), None, 0.0, contours, None, None)
    _, _, right, bottom = area.bounds
    return Drawing(right, bottom, True, 1.0, 0.01, (shape,), (), ())
