"""Translucent fills as the eye sees them: opaque, in the colours that they make with what lies below them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely import MultiPolygon

from peekpaper.design.sheet.colours import mixed, same_colour
from peekpaper.drawing.drawing import Area, Paint, PaintedShape
from peekpaper.geometry.areas import as_area
from peekpaper.geometry.overlay import difference, intersection, union_all

_OPAQUE = 0.95
"""More opacity than this hides what is below to the eye (from memory)."""
_MOST_OVERLAPS = 2_000
"""So many translucent fills over other paint are looked at, so that soft shadows take no time without end."""


def as_seen(shapes: Sequence[PaintedShape], behind: str) -> tuple[PaintedShape, ...]:
    """Return shapes with opaque fills; what shines through one is a shape of its own, without contours.

    `behind` is the colour `#rrggbb` of the page. A fill is mixed by its opacity with the colour that is seen
    below it (W3C Compositing and Blending, simple alpha compositing); what can't be told from the page is
    left out. Over its own colour it stays what it is, since parts of one design overlap. Shapes come as they
    are where nothing is translucent, or far too much, or where nothing could be seen.
    """
    if not any(map(_is_translucent, shapes)) or _overlaps(shapes) > _MOST_OVERLAPS:
        return tuple(shapes)
    seen: list[PaintedShape] = []
    below: list[_Seen] = []
    for shape in shapes:
        seen.extend(_as_seen(shape, behind, below))
    return tuple(seen) if any(shape.fill or shape.stroke for shape in seen) else tuple(shapes)


@dataclass(frozen=True, slots=True)
class _Seen:
    """An area, the colour that it was painted in, and the one that it shows."""

    area: Area
    painted: str
    shown: str


def _as_seen(shape: PaintedShape, behind: str, below: list[_Seen]) -> Iterator[PaintedShape]:
    """Yield what is seen of a shape over what lies below, to which it is added."""
    fill = shape.fill
    parts: list[_Seen] = []
    if fill is not None and _is_translucent(shape):
        parts = list(_shining_through(fill, below))
        shown = mixed(fill.colour, behind, fill.alpha)
        rest = as_area(difference(fill.area, union_all([part.area for part in parts])))
        is_seen = not rest.is_empty and not same_colour(shown, behind)
        below.append(_Seen(rest, fill.colour, shown))
        fill = Paint(rest, shown, 1.0) if is_seen else None
    elif fill is not None:
        below.append(_Seen(fill.area, fill.colour, fill.colour))
    if fill is not None or shape.stroke is not None or shape.fill is None:
        yield replace(shape, fill=fill)
    over = shape.stroke.area if shape.stroke is not None else MultiPolygon()
    for part in parts:
        area = as_area(difference(part.area, over))
        if not area.is_empty:
            yield PaintedShape(Paint(area, part.shown, 1.0), None, 0.0, (), shape.layer, shape.name)
    below.extend(parts)
    if shape.stroke is not None:
        below.append(_Seen(over, shape.stroke.colour, shape.stroke.colour))


def _shining_through(fill: Paint, below: Sequence[_Seen]) -> Iterator[_Seen]:
    """Yield what of other colours is seen through a fill, the topmost first."""
    rest: Area = fill.area
    areas = np.array([each.area for each in below], dtype=object)
    for index in np.flatnonzero(shapely.intersects(areas, fill.area))[::-1].tolist():
        lower = below[index]
        common = as_area(intersection(rest, lower.area))
        if common.is_empty:
            continue
        rest = as_area(difference(rest, lower.area))
        if not same_colour(lower.painted, fill.colour):
            yield _Seen(common, lower.painted, mixed(fill.colour, lower.shown, fill.alpha))


def _is_translucent(shape: PaintedShape) -> bool:
    return shape.fill is not None and not shape.fill.area.is_empty and shape.fill.alpha < _OPAQUE


def _overlaps(shapes: Sequence[PaintedShape]) -> int:
    """Return how often a translucent fill may lie over earlier paint."""
    areas = np.array(
        [paint.area for shape in shapes for paint in (shape.fill, shape.stroke) if paint is not None],
        dtype=object,
    )
    fills = np.array(
        [shape.fill.area for shape in shapes if shape.fill and _is_translucent(shape)], dtype=object
    )
    over, _ = shapely.STRtree(areas).query(fills)
    return len(over)
