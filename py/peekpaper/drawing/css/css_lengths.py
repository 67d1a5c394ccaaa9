"""Lengths of SVG and CSS in px."""

import math
import re
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache
from typing import NamedTuple

from peekpaper.drawing.css.calc import read_calc

_LENGTH = re.compile(r"\s*([+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)([A-Za-z]*|%)\s*")
_PX = {
    "": 1.0, "px": 1.0,
    "in": 96.0, "cm": 96 / 2.54, "mm": 96 / 25.4, "q": 96 / 101.6, "pt": 96 / 72, "pc": 16.0,
}  # fmt: skip
"""CSS px in the absolute units (W3C, CSS Values and Units 4, 6.2); a bare number is in user units."""
_RELATIVE = {"%", "em", "ex", "rem", "rex", "vw", "vh", "vi", "vb", "vmin", "vmax"}
_FONT_UNITS = {"ch", "ic", "cap", "lh", "rlh", "rch", "ric", "rcap"}
PHYSICAL_UNITS = frozenset({"in", "cm", "mm", "q", "pt", "pc"})


class Length(NamedTuple):
    """An amount and its unit in lower case ("" for user units); `more` is to be added, from a `calc()`."""

    amount: float
    unit: str
    more: "tuple[Length, ...]" = ()


class Axis(Enum):
    """What a percentage is of: the viewport's width, its height, or its diagonal over root 2."""

    X = "x"
    Y = "y"
    BOTH = "both"


@dataclass(frozen=True, slots=True)
class Measures:
    """What relative lengths are relative to, in user units: the viewport, the page and the font sizes."""

    width: float
    height: float
    page_width: float
    page_height: float
    font_size: float
    root_font_size: float


@lru_cache(maxsize=4096)
def parse_length(text: str) -> Length | None:
    """Return the length in `text`, or None where it is none.

    The units that depend on the metrics of a font (`ch`, `ic`, `lh`, ...) are not understood: no font is at
    hand here. Lines run from left to right, so that `vi` is along the page's width and `vb` its height.
    """
    match = _LENGTH.fullmatch(text)
    if match is None:
        return _calculated(text) if "calc(" in text.lower() else None
    return _known_length(float(match[1]), match[2].lower())


def _known_length(amount: float, unit: str) -> Length | None:
    is_known = math.isfinite(amount) and (unit in _PX or unit in _RELATIVE)
    return Length(amount, unit) if is_known else None


def _calculated(text: str) -> Length | None:
    parts = [_known_length(amount, unit) for unit, amount in (read_calc(text) or {}).items()]
    known = [part for part in parts if part is not None]
    return known[0]._replace(more=tuple(known[1:])) if known and len(known) == len(parts) else None


def needs_font(text: str) -> bool:
    """Tell whether `text` is a length in one of the units that parse_length does not understand."""
    match = _LENGTH.fullmatch(text)
    return match is not None and match[2].lower() in _FONT_UNITS


def to_px(length: Length, axis: Axis, measures: Measures) -> float:
    """Return a length in user units (SVG 1.1, 7.10; CSS Values and Units 4, chapter 6)."""
    amount, unit, more = length
    px = amount * (_PX[unit] if unit in _PX else _relative_unit(unit, axis, measures))
    return px + sum(to_px(part, axis, measures) for part in more)


def _relative_unit(unit: str, axis: Axis, measures: Measures) -> float:
    sides = measures.page_width, measures.page_height
    return {
        "%": _extent(axis, measures) / 100,
        "em": measures.font_size,
        "ex": measures.font_size / 2,
        "rem": measures.root_font_size,
        "rex": measures.root_font_size / 2,
        "vw": sides[0] / 100,
        "vh": sides[1] / 100,
        "vi": sides[0] / 100,
        "vb": sides[1] / 100,
        "vmin": min(sides) / 100,
        "vmax": max(sides) / 100,
    }[unit]


def _extent(axis: Axis, measures: Measures) -> float:
    if axis is Axis.X:
        return measures.width
    if axis is Axis.Y:
        return measures.height
    return math.hypot(measures.width, measures.height) / math.sqrt(2)
