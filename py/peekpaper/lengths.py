"""Lengths as people type and read them: inches with fractions, mm and cm.

The inch is 25.4 mm exactly (international yard and pound agreement, 1959).
"""

import math
import re
from fractions import Fraction

from peekpaper.refusal import Refusal

MM_PER_INCH = 25.4
PX_PER_INCH = 96.0
"""CSS px in an inch (W3C, CSS Values and Units)."""

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
    r"(?:(?P<whole>\d+)[ -]+(?P<part>\d{1,4}/\d{1,4})"
    r"|(?P<fraction>\d{1,6}/\d{1,4})"
    r"|(?P<decimal>\d+[.,]?\d*|[.,]\d+))"
    r"\s*(?P<unit>[^\d\s]*)"
)


def parse_length(text: str, default_unit: str | None = None) -> float:
    """Return the length that `text` gives, in mm: `8in`, `1/8 in`, `2 1/2"`, `63.5mm`, `6.35 cm`.

    A bare number takes `default_unit` ("in", "mm" or "cm"). Raises Refusal for anything else.
    """
    plain = text.strip().lower()
    for sign, fraction in _VULGAR.items():
        plain = plain.replace(sign, f" {fraction}")
    match = _LENGTH.fullmatch(plain.strip())
    unit = _UNIT_WORDS.get(match["unit"], default_unit if match["unit"] == "" else None) if match else None
    if match is None or unit is None:
        raise Refusal(f"“{text.strip()[:40]}” is no length: write it like 8 in, 2 1/2 in or 63.5 mm.")
    try:
        amount = _amount(match)
    except ZeroDivisionError:
        raise Refusal(f"“{text.strip()[:40]}” divides by zero: write a fraction like 1/8 in.") from None
    value = amount * _MM_PER_UNIT[unit] * (-1 if match["sign"] else 1)
    if not math.isfinite(value):
        raise Refusal(f"“{text.strip()[:40]}” is too large for a length.")
    return value


def _amount(match: re.Match[str]) -> float:
    if match["part"]:
        return int(match["whole"]) + float(Fraction(match["part"]))
    if match["fraction"]:
        return float(Fraction(match["fraction"]))
    return float(match["decimal"].replace(",", "."))


def format_length(mm: float, unit: str) -> str:
    """Return a length in mm as a person reads it: inches to the nearest 1/16 where exact, else decimals.

    `unit` is "in" or "mm".
    """
    if unit == "mm":
        return f"{round(mm, 1):g} mm"
    inches = mm / MM_PER_INCH
    sixteenths = round(inches * 16)
    if abs(inches * 16 - sixteenths) > 0.01:
        return f"{round(inches, 3):g} in"
    whole, rest = divmod(abs(sixteenths), 16)
    fraction = Fraction(rest, 16)
    words = " ".join(str(part) for part in (whole, fraction) if part) or "0"
    return f"{'-' if sixteenths < 0 else ''}{words} in"


def format_size(width_mm: float, height_mm: float, unit: str) -> str:
    """Return width and height as a person reads them: `2 1/2 x 3 in`. `unit` is "in" or "mm"."""
    return f"{format_length(width_mm, unit).removesuffix(f' {unit}')} x {format_length(height_mm, unit)}"
