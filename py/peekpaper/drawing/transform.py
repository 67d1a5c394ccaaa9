"""Transform lists and transform-origin."""

import math
import re
from functools import lru_cache

from peekpaper.drawing.lengths import Axis, Length, Measures, parse_length, to_px
from peekpaper.drawing.matrix import IDENTITY, Matrix, rotation, translation

_FUNCTION = re.compile(r"\s*,?\s*([A-Za-z]+)\s*\(([^()]*)\)")
_SEPARATOR = re.compile(r"\s*,\s*|\s+|(?<=[0-9.])(?=[+-])")
_ANGLES = {"": 1.0, "deg": 1.0, "grad": 0.9, "rad": 180 / math.pi, "turn": 360.0}
_ANGLE = re.compile(r"([+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)(deg|grad|rad|turn)?")


@lru_cache(maxsize=4096)
def parse_transform(text: str) -> Matrix | None:
    """Return the product of a transform list (SVG 1.1, 7.6; CSS Transforms 1), or None where it is in error."""
    if text.strip() in ("", "none"):
        return IDENTITY
    product, position = IDENTITY, 0
    while match := _FUNCTION.match(text, position):
        step = _function(match[1], match[2])
        if step is None:
            return None
        product, position = product @ step, match.end()
    return product if text[position:].strip() == "" else None


def _function(name: str, arguments: str) -> Matrix | None:
    numbers = _numbers(name.lower(), arguments)
    if numbers is None:
        return None
    match name.lower(), numbers:
        case "matrix", [a, b, c, d, e, f]:
            return Matrix(a, b, c, d, e, f)
        case "translate", [x, *rest] if len(rest) < 2:
            return translation(x, rest[0] if rest else 0.0)
        case "translatex", [x]:
            return translation(x, 0.0)
        case "translatey", [y]:
            return translation(0.0, y)
        case "scale", [x, *rest] if len(rest) < 2:
            return Matrix(a=x, d=rest[0] if rest else x)
        case "scalex", [x]:
            return Matrix(a=x)
        case "scaley", [y]:
            return Matrix(d=y)
        case "rotate", [angle]:
            return rotation(angle)
        case "rotate", [angle, x, y]:
            return translation(x, y) @ rotation(angle) @ translation(-x, -y)
        case "skewx", [angle]:
            return Matrix(c=math.tan(math.radians(angle)))
        case "skewy", [angle]:
            return Matrix(b=math.tan(math.radians(angle)))
        case "skew", [x, *rest] if len(rest) < 2:
            return Matrix(b=math.tan(math.radians(rest[0] if rest else 0.0)), c=math.tan(math.radians(x)))
    return None


def _numbers(name: str, arguments: str) -> list[float] | None:
    words = [word for word in _SEPARATOR.split(arguments.strip()) if word]
    values = [_number(name, word) for word in words]
    return [value for value in values if value is not None] if None not in values else None


def _number(name: str, word: str) -> float | None:
    if match := _ANGLE.fullmatch(word):
        return float(match[1]) * _ANGLES[match[2] or ""]
    length = parse_length(word)
    if length is None:
        return None
    if length.unit == "%":
        return length.amount / 100 if name.startswith("scale") else None
    return to_px(length, Axis.X, _NO_MEASURES) if name.startswith("translate") else None


_NO_MEASURES = Measures(0, 0, 0, 0, 16, 16)


_KEYWORDS_X = {"left": 0.0, "center": 50.0, "right": 100.0}
_KEYWORDS_Y = {"top": 0.0, "center": 50.0, "bottom": 100.0}


@lru_cache(maxsize=256)
def parse_origin(text: str) -> tuple[Length, Length] | None:
    """Return the two lengths of a transform-origin (CSS Transforms 1, chapter 4), or None where it is in error."""
    words = text.lower().split()[:3]
    if not words:
        return None
    first, second = words[0], words[1] if len(words) > 1 else "center"
    if first in ("top", "bottom") or second in ("left", "right"):
        first, second = second, first
    x, y = _origin_part(first, _KEYWORDS_X), _origin_part(second, _KEYWORDS_Y)
    return (x, y) if x is not None and y is not None else None


def _origin_part(word: str, keywords: dict[str, float]) -> Length | None:
    if word in keywords:
        return Length(keywords[word], "%")
    return parse_length(word)
