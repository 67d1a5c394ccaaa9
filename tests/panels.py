"""Random panels: frames with openings of many kinds, and the drawings and designs that they are.

Lengths are in mm, y down. Everything follows from the numbers drawn, so hypothesis can shrink and repeat it.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import shapely
from hypothesis import strategies as st
from shapely import MultiPolygon, Polygon, affinity

from peekpaper.design.design import Design, Limits, Reading
from peekpaper.design.make import make_design
from peekpaper.drawing.drawing import Contour, Drawing, Paint, PaintedShape

PX_PER_MM = 96 / 25.4

Random = np.random.Generator
Kind = Callable[[Random], Polygon]


def circle(random: Random) -> Polygon:
    return shapely.Point(0, 0).buffer(1, quad_segs=int(random.integers(6, 24)))


def ellipse(random: Random) -> Polygon:
    return affinity.scale(shapely.Point(0, 0).buffer(1, quad_segs=16), 1, random.uniform(0.3, 0.9))


def rectangle(random: Random) -> Polygon:
    return shapely.box(-1, -(h := random.uniform(0.2, 1)), 1, h)


def triangle(random: Random) -> Polygon:
    return shapely.Polygon([(-1, 0.8), (1, 0.8), (random.uniform(-1, 1), -0.9)])


def star(random: Random) -> Polygon:
    count, waist = int(random.integers(4, 9)), random.uniform(0.3, 0.7)
    angles = np.arange(2 * count) * np.pi / count
    radii = np.where(np.arange(2 * count) % 2, waist, 1.0)
    return Polygon(np.stack([radii * np.cos(angles), radii * np.sin(angles)], axis=1))


def petal(random: Random) -> Polygon:
    shift = random.uniform(0.3, 0.9)
    disc = shapely.Point(-shift, 0).buffer(1, quad_segs=24)
    return disc.intersection(shapely.Point(shift, 0).buffer(1, quad_segs=24))


def blob(random: Random) -> Polygon:
    angles = np.linspace(0, 2 * np.pi, 48, endpoint=False)
    waves = sum(random.uniform(0, 0.25 / k) * np.cos(k * angles + random.uniform(0, 6)) for k in range(2, 6))
    radii = 0.7 + waves
    return Polygon(np.stack([radii * np.cos(angles), radii * np.sin(angles)], axis=1))


def corner(random: Random) -> Polygon:
    arm = random.uniform(0.3, 0.9)
    return Polygon([(-1, -1), (1, -1), (1, -1 + arm), (-1 + arm, -1 + arm), (-1 + arm, 1), (-1, 1)])


def slot(random: Random) -> Polygon:
    return shapely.LineString([(-0.9, 0), (0.9, random.uniform(-0.3, 0.3))]).buffer(0.08, quad_segs=6)


KINDS: tuple[Kind, ...] = (circle, ellipse, rectangle, triangle, star, petal, blob, corner, slot)


@dataclass(frozen=True)
class Panel:
    """A card with openings in it: `openings` are its interior rings as areas, in no order."""

    card: Polygon

    @property
    def openings(self) -> tuple[Polygon, ...]:
        return tuple(Polygon(ring) for ring in self.card.interiors)


def random_panel(seed: int, rows: int = 4, columns: int = 4, cell: float = 20.0, bar: float = 2.0) -> Panel:
    """Return a frame with one opening per cell, no two nearer than about `bar`, some turned, some missing."""
    random = np.random.default_rng(seed)
    holes = []
    for row in range(rows):
        for column in range(columns):
            if random.random() < 0.05:
                continue
            kind = KINDS[random.integers(len(KINDS))]
            shape = affinity.rotate(
                kind(random), random.choice([0, 45, random.uniform(0, 360)]), origin=(0, 0)
            )
            left, top, right, bottom = shape.bounds
            scale = (
                (cell - bar) / max(right - left, bottom - top) * random.choice([1, 1, random.uniform(0.1, 1)])
            )
            shape = affinity.translate(shape, -(left + right) / 2, -(top + bottom) / 2)
            shape = affinity.scale(shape, scale, scale, origin=(0, 0))
            holes.append(affinity.translate(shape, (column + 0.5) * cell, (row + 0.5) * cell))
    width, height, rim = columns * cell, rows * cell, random.uniform(0.5, 6)
    frame = shapely.box(-rim, -rim, width + rim, height + rim)
    if random.random() < 0.3:
        frame = frame.buffer(rim, quad_segs=16)
    card = frame.difference(shapely.union_all(holes)) if holes else frame
    if isinstance(card, MultiPolygon):
        card = max(card.geoms, key=lambda part: part.area)
    return Panel(card)


def panels(most_rows: int = 4) -> st.SearchStrategy[Panel]:
    """Draw random panels with bars from hair-thin to wide."""
    return st.builds(
        random_panel,
        seed=st.integers(0, 10_000),
        rows=st.integers(1, most_rows),
        columns=st.integers(1, most_rows),
        cell=st.sampled_from([6.0, 12.0, 20.0, 45.0]),
        bar=st.sampled_from([0.3, 0.8, 1.5, 3.0, 5.0]),
    )


def drawing_of(
    *areas: Polygon | MultiPolygon, colours: tuple[str, ...] = (), physical: bool = True
) -> Drawing:
    """Return a drawing that fills `areas` (mm) in paint order, black unless `colours` say otherwise."""
    shapes = tuple(
        filled(area, colour) for area, colour in zip(areas, colours or ("#000000",) * len(areas), strict=True)
    )
    return page_of(*shapes, physical=physical)


def lines_of(*lines: shapely.LineString, closed: bool = True, physical: bool = True) -> Drawing:
    """Return a drawing of unfilled hairlines (mm)."""
    shapes = tuple(
        PaintedShape(
            None, _paint(_px(line).buffer(0.05), "#ff0000"), 0.1, (Contour(_px(line), closed),), None, None
        )
        for line in lines
    )
    return page_of(*shapes, physical=physical)


def page_of(*shapes: PaintedShape, physical: bool = True) -> Drawing:
    """Return a drawing of shapes in CSS px on a page that holds them."""
    lines = [contour.line for shape in shapes for contour in shape.contours]
    _, _, right, bottom = shapely.total_bounds(lines) if lines else (0, 0, 100, 100)
    return Drawing(max(float(right), 1.0), max(float(bottom), 1.0), physical, 1.0, 0.01, shapes, (), ())


def filled(area: Polygon | MultiPolygon, colour: str = "#000000") -> PaintedShape:
    """Return a filled shape in CSS px from an area in mm."""
    placed = _px(area)
    rings = [ring for part in shapely.get_parts(placed) for ring in (part.exterior, *part.interiors)]
    contours = tuple(Contour(shapely.LineString(ring.coords), True) for ring in rings)
    return PaintedShape(_paint(placed, colour), None, 0.0, contours, None, None)


def design_of(card: Polygon | MultiPolygon, limits: Limits | None = None) -> Design:
    """Return the design of a card drawn as filled solids at true size."""
    return make_design(drawing_of(card), Reading(), limits or Limits())


def _paint(area: Polygon | MultiPolygon, colour: str) -> Paint:
    return Paint(area, colour, 1.0)


def _px(geometry: shapely.Geometry) -> shapely.Geometry:
    return shapely.transform(geometry, lambda points: points * PX_PER_MM)
