"""CSS colours as sRGB."""

import re
from functools import lru_cache
from typing import NamedTuple

from tinycss2 import color4

_ICC = re.compile(r"\s*icc-color\([^()]*\)\s*$", re.IGNORECASE)


class Colour(NamedTuple):
    """A colour `#rrggbb` and its opacity from 0 to 1."""

    hex: str
    alpha: float


BLACK = Colour("#000000", 1.0)
CURRENT = "currentcolor"


@lru_cache(maxsize=4096)
def parse_colour(text: str) -> Colour | str | None:
    """Return the colour in `text` (CSS Color 4), CURRENT for `currentColor`, or None where it is none.

    An ICC colour behind the sRGB one (SVG 1.1, 12.2) is passed over. Colours outside sRGB are clipped.
    """
    plain = _ICC.sub("", text)
    colour = color4.parse_color(plain)
    if colour is None or isinstance(colour, str):
        return CURRENT if colour else None
    channels = _to_srgb(colour, plain)
    return Colour(
        "#" + "".join(f"{round(255 * _clamp(channel)):02x}" for channel in channels), _clamp(colour.alpha)
    )


def _clamp(share: float | None) -> float:
    return min(1.0, max(0.0, share or 0.0))


def _to_srgb(colour: color4.Color, text: str) -> list[float]:
    if colour.space in ("srgb", "hsl", "hwb"):
        return [channel or 0.0 for channel in colour.to("srgb").coordinates]
    from coloraide import Color  # here, since hardly a file has such colours

    return [channel or 0.0 for channel in Color(text).convert("srgb").coords()]
