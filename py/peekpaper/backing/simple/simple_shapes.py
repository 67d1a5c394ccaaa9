"""Punches and two-cut rectangles that would do instead of a fitted outline."""

from collections.abc import Iterable, Iterator, Sequence

import numpy as np
from shapely import Polygon

from peekpaper.backing.backing import SimpleShapeOffer
from peekpaper.backing.simple.covering import Seat, Try
from peekpaper.backing.simple.punches import (
    Form,
    SimpleShape,
    parse_shape,
    rectangle_around,
    shape_name,
    shape_size,
)
from peekpaper.lengths import MM_PER_INCH
from peekpaper.message import message

_CUT_STEPS_MM = {"in": MM_PER_INCH / 8, "mm": 5.0}
"""The steps in which sides are cut straight, by the unit of the ruler (from memory)."""


def stock(names: Iterable[str]) -> tuple[SimpleShape, ...]:
    """Return a person's punches, the smallest first. Raises Refusal for a name that tells no shape."""
    return tuple(
        sorted((parse_shape(name) for name in names), key=lambda shape: shape.width_mm * shape.height_mm)
    )


def offers(piece: int, seat: Seat, punches: Sequence[SimpleShape]) -> Iterator[SimpleShapeOffer]:
    """Yield the smallest square, circle and rectangular punch that do, and plain rectangles of two cuts.

    There is one of those for each unit that a person may measure in.
    """
    for form in Form:
        tries = seat.tries([punch for punch in punches if punch.form is form])
        found = seat.first_inside(sorted(tries, key=lambda one: one.shape.width_mm * one.shape.height_mm))
        if found is not None:
            punch, outline = found
            said = message(f"offer.{form}", size=shape_size(punch))
            yield SimpleShapeOffer(piece, shape_name(punch), said, outline, punch, None)
    turns = sorted(range(len(seat.turns)), key=lambda turn: float(np.prod(seat.needed(turn))))
    for unit, step_mm in _CUT_STEPS_MM.items():
        found = seat.first_inside(
            [Try(rectangle_around(*seat.needed(turn), step_mm), turn) for turn in turns]
        )
        if found is not None:
            cut, outline = found
            said = message("offer.cuts", size=shape_size(cut))
            yield SimpleShapeOffer(piece, shape_name(cut), said, outline, cut, unit)


def placed(shape: SimpleShape, seat: Seat) -> Polygon | None:
    """Return the shape where it covers what it must and stays inside, at some turn, or None."""
    found = seat.first_inside(seat.tries([shape]))
    return found[1] if found else None
