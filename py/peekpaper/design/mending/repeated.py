"""The same change on all alike places, turned and mirrored as the openings are that it was made in."""

import dataclasses
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from peekpaper.design.design import Design, Opening
from peekpaper.design.mending.effect import placing_of
from peekpaper.design.mending.mends import Change
from peekpaper.design.openings.alike import alike_turns
from peekpaper.design.placing import Placing
from peekpaper.geometry.affine import after, back, moved
from peekpaper.geometry.overlay import intersection

_NEAR_MM = 0.1
"""An opening so near to a change is changed by it."""
_PLACES = ("line", "outline")


def repeated(design: Design, change: Change) -> tuple[Change, ...]:
    """Return a change in px as it is on the other openings alike to the one that it was made in or beside.

    Where it is beside several, the one counts that most others are alike to. Empty where there are no others,
    and for changes that are not at one place.
    """
    placing = placing_of(design)
    shape = _shape(change, placing)
    if shape is None:
        return ()
    opening = _opening(design, shape)
    if opening is None:
        return ()
    group = [each.area for each in design.openings if each.alike == opening.alike]
    for maps in alike_turns(group):
        own = [place for place in maps if group[place] is opening.area]
        if own:
            forth = maps[own[0]]
            others = [lay for place, lay in maps.items() if place != own[0]]
            return tuple(_turned(change, after(back(lay), forth), placing) for lay in others)
    return ()


def _shape(change: Change, placing: Placing) -> BaseGeometry | None:
    """Return where a change is, in mm."""
    line, outline, at = (getattr(change, name, None) for name in ("line", "outline", "at"))
    if line is not None:
        return shapely.LineString(placing.places(line))
    if outline is not None:
        return shapely.make_valid(shapely.Polygon(placing.places(outline)))
    return placing.place(at) if at is not None else None


def _opening(design: Design, shape: BaseGeometry) -> Opening | None:
    counts = np.bincount([opening.alike for opening in design.openings], minlength=1)
    near = [opening for opening in design.openings if opening.area.dwithin(shape, _NEAR_MM)]
    if not near:
        return None
    shared = [intersection(opening.area, shape) for opening in near]
    order = [(counts[one.alike], piece.area, piece.length) for one, piece in zip(near, shared, strict=True)]
    return near[max(range(len(near)), key=order.__getitem__)]


def _turned(change: Change, turn: NDArray[np.float64], placing: Placing) -> Change:
    fields: dict[str, Any] = {}
    for field in dataclasses.fields(change):
        value = getattr(change, field.name)
        if field.name in _PLACES:
            fields[field.name] = placing.px_places(moved(placing.places(value), turn))
        elif field.name == "at":
            (fields[field.name],) = placing.px_places(moved(placing.places([value]), turn))
    return dataclasses.replace(change, **fields)
