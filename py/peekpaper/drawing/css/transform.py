"""Transform lists and transform-origin."""

import math
import re
from collections.abc import Callable
from functools import lru_cache

from peekpaper.drawing.css.css_lengths import Axis, Length, Measures, parse_length, to_px
from peekpaper.drawing.outlines.matrix import IDENTITY, Matrix, rotation, translation

_FUNCTION = re.compile(r"\s*([A-Za-z]+)\s*\(([^()]*)\)\s*,?")
# Atomic, so that no number is taken apart to make what is behind it fit.
_ARGUMENT = r"(?>[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?[A-Za-z%]*)"
_ARGUMENTS = re.compile(rf"\s*(?:{_ARGUMENT}(?:\s*,?\s*{_ARGUMENT})*\s*)?")
_ANGLES = {"": 1.0, "deg": 1.0, "grad": 0.9, "rad": 180 / math.pi, "turn": 360.0}
_ANGLE = re.compile(r"([+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)(deg|grad|rad|turn)?")


def _scale(x: float, y: float | None = None) -> Matrix:
    return Matrix(a=x, d=x if y is None else y)


def _skew(x: float, y: float = 0.0) -> Matrix:
    return Matrix(b=math.tan(math.radians(y)), c=math.tan(math.radians(x)))


def _rotate(degrees: float, x: float = 0.0, y: float = 0.0) -> Matrix:
    return translation(x, y) @ rotation(degrees) @ translation(-x, -y)


_ATTRIBUTE = re.compile(
    r"(?:\s*(?:matrix|translate|scale|rotate|skewX|skewY)\s*\([^()A-Za-df-z%]*\)\s*,?)*\s*|\s*none\s*"
)
_FUNCTIONS: dict[str, tuple[Callable[..., Matrix], tuple[int, ...]]] = {
    "matrix": (Matrix, (6,)),
    "translate": (lambda x, y=0.0: translation(x, y), (1, 2)),
    "translatex": (lambda x: translation(x, 0.0), (1,)),
    "translatey": (lambda y: translation(0.0, y), (1,)),
    "scale": (_scale, (1, 2)),
    "scalex": (lambda x: Matrix(a=x), (1,)),
    "scaley": (lambda y: Matrix(d=y), (1,)),
    "rotate": (_rotate, (1, 3)),
    "skew": (_skew, (1, 2)),
    "skewx": (_skew, (1,)),
    "skewy": (lambda y: _skew(0.0, y), (1,)),
}
"""The functions by name in lower case, and how many numbers each may take."""


@lru_cache(maxsize=4096)
def is_attribute_transform(text: str) -> bool:
    """Tell whether `text` may stand in the attribute, which knows no units and is strict about capitals."""
    return _ATTRIBUTE.fullmatch(text) is not None


@lru_cache(maxsize=4096)
def parse_transform(text: str) -> Matrix | None:
    """Return the product of a transform list (SVG 1.1, 7.6; CSS Transforms 1), None for one in error."""
    if text.strip() in ("", "none"):
        return IDENTITY
    product, position = IDENTITY, 0
    while match := _FUNCTION.match(text, position):
        step = _read_function(match[1].lower(), match[2])
        if step is None:
            return None
        product, position = product @ step, match.end()
    return product if text[position:].strip() == "" else None


def _read_function(name: str, arguments: str) -> Matrix | None:
    if _ARGUMENTS.fullmatch(arguments) is None:
        return None
    words = re.findall(_ARGUMENT, arguments)
    values = [_number(name, word) for word in words]
    numbers = [value for value in values if value is not None]
    make, counts = _FUNCTIONS.get(name, (Matrix, ()))
    return make(*numbers) if len(numbers) == len(values) and len(values) in counts else None


def parse_angle(text: str) -> float | None:
    """Return an angle in degrees, or None where there is none."""
    match = _ANGLE.fullmatch(text)
    value = float(match[1]) * _ANGLES[match[2] or ""] if match else math.nan
    return value if math.isfinite(value) else None


def _number(name: str, word: str) -> float | None:
    angle = parse_angle(word)
    if angle is not None or _ANGLE.fullmatch(word):
        return angle
    length = parse_length(word)
    if length is None:
        return None
    if length.unit == "%":
        return length.amount / 100 if name.startswith("scale") else None
    return to_px(length, Axis.X, _NO_MEASURES) if name.startswith("translate") else None


_NO_MEASURES = Measures(0, 0, 0, 0, 16, 16)
_KEYWORDS_X = {"left": 0.0, "center": 50.0, "right": 100.0}
_KEYWORDS_Y = {"top": 0.0, "center": 50.0, "bottom": 100.0}
_WORDS = re.compile(r"(?:\([^()]*\)|[^\s()])+")


@lru_cache(maxsize=256)
def parse_origin(text: str) -> tuple[Length, Length] | None:
    """Return the two lengths of a transform-origin (CSS Transforms 1, chapter 4), None for one in error."""
    words = _WORDS.findall(text.lower())
    depth = parse_length(words[2]) if len(words) == 3 else Length(0, "")
    if not 1 <= len(words) <= 3 or depth is None or depth.unit == "%":
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
