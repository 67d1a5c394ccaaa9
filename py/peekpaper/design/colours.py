"""How alike two flat colours of a drawing are, and how light."""

_SAME = 14
"""Colours that differ by no more than this in any channel (of 255) count as one (from memory)."""


def same_colour(one: str, other: str) -> bool:
    """Tell whether two colours `#rrggbb` were meant to be the same."""
    return max(abs(a - b) for a, b in zip(_channels(one), _channels(other), strict=True)) <= _SAME


def lightness(colour: str) -> float:
    """Return the luma of a colour `#rrggbb` from 0 to 1 (weights of ITU-R BT.601)."""
    red, green, blue = _channels(colour)
    return (0.299 * red + 0.587 * green + 0.114 * blue) / 255


def _channels(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)
