"""Lengths as people type and read them: inches with fractions, mm and cm."""

import math
import re
from fractions import Fraction

from peekpaper.bounds import MOST_MM
from peekpaper.message import message
from peekpaper.refusal import Refusal
from peekpaper.units import MM_PER_INCH, PX_PER_INCH, RULER_MM

__all__ = [
    "LARGEST_MM",
    "MM_PER_INCH",
    "PX_PER_INCH",
    "format_length",
    "format_size",
    "format_size_at_least",
    "parse_length",
    "refuse_no_length",
    "unit_of",
]

LARGEST_MM = 5000.0
"""A length beyond this is a slip of the unit: no card, mat or sheet comes near it."""

_MM_PER_UNIT = {"in": MM_PER_INCH, "mm": 1.0, "cm": 10.0}
_UNIT_WORDS = {
    '"': "in", "″": "in", "”": "in", "in": "in", "inch": "in", "inches": "in",
    "mm": "mm", "cm": "cm",
}  # fmt: skip
_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3",
    "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_LENGTH = re.compile(
    r"(?P<sign>-?)"
    r"(?:(?P<whole>\d{1,9})[ -]+(?P<part>\d{1,4}/\d{1,4})"
    r"|(?P<fraction>\d{1,6}/\d{1,4})"
    r"|(?P<decimal>\d+[.,]?\d*|[.,]\d+))"
    r"\s*(?P<unit>[^\d\s]*)"
)


def parse_length(text: str, default_unit: str | None = None) -> float:
    """Return the length that `text` gives, in mm: `8in`, `1/8 in`, `2 1/2"`, `63.5mm`, `6.35 cm`.

    A bare number takes `default_unit` ("in", "mm" or "cm"). Raises Refusal for anything else, and for one
    such as `1,000 mm`, whose mark may stand for thousands or for decimals.
    """
    match = _matched(text)
    unit = _UNIT_WORDS.get(match["unit"], default_unit if match["unit"] == "" else None) if match else None
    if match is None or unit is None:
        raise Refusal("no-length", text=text.strip()[:40])
    _refuse_doubtful(text, match, unit)
    try:
        amount = _amount(match)
    except ZeroDivisionError:
        raise Refusal("length-divides-by-zero", text=text.strip()[:40]) from None
    value = amount * _MM_PER_UNIT[unit] * (-1 if match["sign"] else 1)
    if not abs(value) <= MOST_MM:
        raise Refusal("length-too-large", text=text.strip()[:40])
    return value


def _refuse_doubtful(text: str, match: re.Match[str], unit: str) -> None:
    """Raise Refusal where a mark before three digits may stand for decimals as well as for thousands.

    Thousands are out of the question for a leading zero, and beyond `LARGEST_MM`.
    """
    parts = re.fullmatch(r"([1-9]\d*)[.,](\d{3})", match["decimal"] or "")
    if parts is None:
        return
    large = int(parts[1] + parts[2])
    if large * _MM_PER_UNIT[unit] <= LARGEST_MM:
        small = float(f"{parts[1]}.{parts[2]}")
        raise Refusal("doubtful-length", text=text.strip()[:40], small=small, unit=unit, large=large)


def unit_of(text: str) -> str | None:
    """Return the unit that a length is written in ("in", "mm" or "cm"), None where there is none."""
    match = _matched(text)
    return _UNIT_WORDS.get(match["unit"]) if match else None


def _matched(text: str) -> re.Match[str] | None:
    plain = text.strip().lower()
    for sign, fraction in _VULGAR.items():
        plain = plain.replace(sign, f" {fraction}")
    return _LENGTH.fullmatch(plain.strip())


def refuse_no_length(mm: float, distance: str) -> None:
    """Raise Refusal where a distance in mm is less than zero or beyond `LARGEST_MM`.

    `distance` names it by the key of its words: `distance.lip`.
    """
    if mm > LARGEST_MM:
        raise Refusal("length-above", name=message(distance), most_m=LARGEST_MM / 1000)
    if not mm >= 0:
        raise Refusal("length-below-zero", name=message(distance))


def _amount(match: re.Match[str]) -> float:
    if match["part"]:
        return int(match["whole"]) + float(Fraction(match["part"]))
    if match["fraction"]:
        return float(Fraction(match["fraction"]))
    return float(match["decimal"].replace(",", "."))


def format_length(mm: float, unit: str) -> str:
    """Return a length in mm as a ruler has it: the nearest 1/32 inch as a fraction, or tenth of a mm.

    `unit` is "in" or "mm".
    """
    return _written(round(mm / RULER_MM[unit]), unit)


def format_size(width_mm: float, height_mm: float, unit: str) -> str:
    """Return width and height as a ruler has them: `2 1/2 x 3 in`. `unit` is "in" or "mm"."""
    return f"{format_length(width_mm, unit).removesuffix(f' {unit}')} x {format_length(height_mm, unit)}"


def format_size_at_least(width_mm: float, height_mm: float, unit: str) -> str:
    """Return width and height as `format_size` does, but rounded up: for what is to be cut."""
    width, height = (
        _written(math.ceil(side / RULER_MM[unit] - 1e-3), unit) for side in (width_mm, height_mm)
    )
    return f"{width.removesuffix(f' {unit}')} x {height}"


def _written(steps: int, unit: str) -> str:
    """Return a length of so many of a ruler's finest steps."""
    if unit == "mm":
        return f"{steps / 10:g} mm"
    whole, rest = divmod(abs(steps), 32)
    words = " ".join(str(part) for part in (whole, Fraction(rest, 32)) if part) or "0"
    return f"{'-' if steps < 0 else ''}{words} in"
