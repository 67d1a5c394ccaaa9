"""How alike flat colours of a drawing are, and how light."""

from collections.abc import Sequence

import numpy as np

_SAME = 14
"""Colours that differ by no more than this in any channel (of 255) count as one (from memory)."""


def same_colour(one: str, other: str) -> bool:
    """Tell whether two colours `#rrggbb` were meant to be the same."""
    return max(abs(a - b) for a, b in zip(_channels(one), _channels(other), strict=True)) <= _SAME


def colour_classes(colours: Sequence[str]) -> tuple[list[str], list[int]]:
    """Return the colours that differ, in order of appearance, and which of them each of `colours` is.

    A colour counts as the first one that it is the same as.
    """
    distinct = list(dict.fromkeys(colours))
    channels = np.array([_channels(colour) for colour in distinct], dtype=np.int64).reshape(-1, 3)
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


def _channels(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)
