"""Changes between the design's millimetres and the drawing's px."""

import dataclasses
from typing import Any

import numpy as np

from peekpaper.design.mending.mends import Change
from peekpaper.design.placing import Placing

_PLACES = ("line", "outline")
_LENGTHS = ("width", "radius", "margin", "corner", "hole", "tolerance")


def in_px(change: Change, placing: Placing) -> Change:
    """Return a change given in mm as one in px of the drawing."""
    fields: dict[str, Any] = {}
    for field in dataclasses.fields(change):
        value = getattr(change, field.name)
        if field.name in _PLACES:
            fields[field.name] = placing.px_places(np.array(value))
        elif field.name == "outlines":
            fields[field.name] = tuple(placing.px_places(np.array(outline)) for outline in value)
        elif field.name == "at":
            (fields[field.name],) = placing.px_places(np.array([value]))
        elif field.name in _LENGTHS:
            fields[field.name] = placing.px_length(value)
        elif field.name == "area":
            fields[field.name] = value / placing.mm_per_px**2
    return dataclasses.replace(change, **fields)
