"""How alike flat colours of a drawing are, and how light."""

from collections.abc import Sequence

import numpy as np

_SAME = 14
"""Colours that differ by no more than this in any channel (of 255) count as one (from memory)."""
_DARK = 34
"""Darker channels look alike: programs write black as #000000, #231f20 and the like (from memory)."""


def same_colour(one: str, other: str) -> bool:
    """Tell whether two colours `#rrggbb` were meant to be the same."""
    return max(abs(a - b) for a, b in zip(_shade(one), _shade(other), strict=True)) <= _SAME


def colour_classes(colours: Sequence[str]) -> tuple[list[str], list[int]]:
    """Return the colours that differ, in order of appearance, and which of them each of `colours` is.

    A colour counts as the first one that it is the same as.
    """
    distinct = list(dict.fromkeys(colours))
    channels = np.array([_shade(colour) for colour in distinct], dtype=np.int64).reshape(-1, 3)
    heads = np.zeros_like(channels)
    names: list[str] = []
    classes: dict[str, int] = {}
    for colour, own in zip(distinct, channels, strict=True):
        same = np.flatnonzero(np.abs(heads[: len(names)] - own).max(axis=1, initial=0) <= _SAME)
        classes[colour] = int(same[0]) if len(same) else len(names)
        if not len(same):
            heads[len(names)] = own
            names.append(colour)
    return names, [classes[colour] for colour in colours]


def lightness(colour: str) -> float:
    """Return the luma of a colour `#rrggbb` from 0 to 1 (weights of ITU-R BT.601)."""
    red, green, blue = _channels(colour)
    return (0.299 * red + 0.587 * green + 0.114 * blue) / 255


def mixed(over: str, under: str, opacity: float) -> str:
    """Return the colour `#rrggbb` that one makes over another, by its opacity from 0 to 1."""
    channels = zip(_channels(over), _channels(under), strict=True)
    red, green, blue = (round(opacity * upper + (1 - opacity) * lower) for upper, lower in channels)
    return f"#{red:02x}{green:02x}{blue:02x}"


def is_red(colour: str) -> bool:
    """Tell whether a colour `#rrggbb` is the plain red of lines to cut."""
    red, green, blue = _channels(colour)
    return red >= 200 and max(green, blue) <= 80


def _shade(colour: str) -> tuple[int, int, int]:
    """Return the channels of a colour, but for differences in the dark."""
    red, green, blue = _channels(colour)
    return max(red, _DARK), max(green, _DARK), max(blue, _DARK)


def _channels(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)
