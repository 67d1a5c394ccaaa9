"""The computed style of an element: the properties that bear on what it paints."""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Any, NamedTuple

from peekpaper.drawing.areas.stroke import Cap, Join
from peekpaper.drawing.css.colour import BLACK, CURRENT, Colour, parse_colour
from peekpaper.drawing.css.css_lengths import Axis, Length, Measures, parse_length, to_px
from peekpaper.drawing.css.transform import parse_origin, parse_transform
from peekpaper.drawing.css.variables import replace_variables
from peekpaper.drawing.outlines.matrix import Matrix


class PaintSource(NamedTuple):
    """What an area is painted with: a colour, the current colour, a paint server, or nothing.

    `server` is the address of a paint server, and the rest then its fallback. `context` is "fill" or
    "stroke" for `context-fill` and `context-stroke`.
    """

    colour: Colour | None = None
    is_current: bool = False
    server: str | None = None
    context: str | None = None


NO_PAINT = PaintSource()
BLACK_PAINT = PaintSource(colour=BLACK)
_ZERO, _ONE = Length(0.0, ""), Length(1.0, "")


@dataclass(frozen=True, slots=True)
class Style:
    """Computed values by the names of SVG and CSS; addresses are "" for none.

    Lengths that depend on the viewport are kept as written. `variables` are CSS custom properties. `width`
    and `height` bear on the outermost `svg` alone, where they go before the attributes.
    """

    color: Colour = BLACK
    fill: PaintSource = BLACK_PAINT
    fill_rule: str = "nonzero"
    fill_opacity: float = 1.0
    stroke: PaintSource = NO_PAINT
    stroke_width: Length = _ONE
    stroke_linecap: Cap = Cap.BUTT
    stroke_linejoin: Join = Join.MITER
    stroke_miterlimit: float = 4.0
    stroke_dasharray: tuple[Length, ...] = ()
    stroke_dashoffset: Length = _ZERO
    stroke_opacity: float = 1.0
    clip_rule: str = "nonzero"
    visibility: str = "visible"
    paint_order: str = "normal"
    font_size: float = 16.0
    font_family: tuple[str, ...] = ()
    font_weight: float = 400.0
    font_style: str = "normal"
    letter_spacing: Length = _ZERO
    word_spacing: Length = _ZERO
    text_anchor: str = "start"
    direction: str = "ltr"
    dominant_baseline: str = "auto"
    writing_mode: str = "horizontal-tb"
    white_space: str = "normal"
    marker_start: str = ""
    marker_mid: str = ""
    marker_end: str = ""
    variables: Mapping[str, str] = field(default_factory=dict)
    # From here on not inherited.
    opacity: float = 1.0
    display: str = "inline"
    overflow: str = "hidden"
    clip_path: str = ""
    mask: str = ""
    filter: str = ""
    transform: Matrix | None = None
    transform_origin: tuple[Length, Length] | None = None
    transform_box: str = "view-box"
    vector_effect: str = "none"
    background_color: Colour | None = None
    stop_color: PaintSource = BLACK_PAINT
    stop_opacity: float = 1.0
    width: Length | None = None
    height: Length | None = None
    baseline_shift: str = "0"


INITIAL = Style()
_NOT_INHERITED = (
    "opacity", "display", "overflow", "clip_path", "mask", "filter", "transform", "transform_origin",
    "transform_box", "vector_effect", "background_color", "stop_color", "stop_opacity", "width",
    "height", "baseline_shift",
)  # fmt: skip
_RESET = {name: getattr(INITIAL, name) for name in _NOT_INHERITED}

_URL = re.compile(r"url\(\s*(?:\"([^\"]*)\"|'([^']*)'|([^)\"']*?))\s*\)\s*(.*)", re.DOTALL | re.IGNORECASE)
_NUMBER = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?")
_SEPARATOR = re.compile(r"\s*,\s*|\s+")


def parse_address(text: str) -> str | None:
    """Return the address in `url(...)`, "" for `none`, or None where there is neither or more than that."""
    match = _URL.match(text)
    if match is None:
        return "" if text.lower() == "none" else None
    if match[4].strip():
        return None
    return match[1] or match[2] or match[3] or ""


_BASIC_SHAPE = re.compile(
    r"(?:[a-z-]+\s+)?(?:inset|xywh|rect|circle|ellipse|polygon|path|shape)\(", re.IGNORECASE
)


def is_basic_shape(clip_path: str) -> bool:
    """Tell whether a `clip-path` is a shape written in CSS (CSS Masking 1, 5.1), not the address of one."""
    return _BASIC_SHAPE.match(clip_path) is not None


def _parse_clip_path(text: str) -> str | None:
    return text if _URL.match(text) is None and is_basic_shape(text) else parse_address(text)


def _parse_number(text: str) -> float | None:
    return float(text) if _NUMBER.fullmatch(text) else None


def _parse_opacity(text: str) -> float | None:
    share = 0.01 if text.endswith("%") else 1.0
    value = _parse_number(text.removesuffix("%"))
    return None if value is None else min(1.0, max(0.0, value * share))


def _parse_paint(text: str) -> PaintSource | None:
    match = _URL.match(text)
    if match is None:
        return _parse_plain_paint(text)
    fallback = _parse_plain_paint(match[4].strip()) if match[4].strip() else NO_PAINT
    return fallback and fallback._replace(server=match[1] or match[2] or match[3] or "")


def _parse_plain_paint(text: str) -> PaintSource | None:
    word = text.lower()
    if word == "none":
        return NO_PAINT
    if word in ("context-fill", "context-stroke"):
        return PaintSource(context=word.removeprefix("context-"))
    colour = parse_colour(text)
    if colour == CURRENT:
        return PaintSource(is_current=True)
    return PaintSource(colour=colour) if isinstance(colour, Colour) else None


def _parse_own_colour(text: str) -> Colour | None:
    colour = parse_colour(text)
    return colour if isinstance(colour, Colour) else None


def _parse_dashes(text: str) -> tuple[Length, ...] | None:
    if text.lower() == "none":
        return ()
    lengths = [parse_length(word) for word in _SEPARATOR.split(text.rstrip(" ,"))]
    known = tuple(length for length in lengths if length is not None)
    return known if len(known) == len(lengths) else None


def _parse_width(text: str) -> Length | None:
    length = parse_length(text)
    return length if length is not None and length.amount >= 0 else None


def _parse_miter_limit(text: str) -> float | None:
    value = _parse_number(text)
    return value if value is not None and value >= 0 else None


def _parse_join(text: str) -> Join | None:
    word = text.lower()
    if word == "arcs":
        return Join.MITER
    return Join(word) if word in set(Join) else None


def _parse_cap(text: str) -> Cap | None:
    return Cap(text.lower()) if text.lower() in set(Cap) else None


def _one_of(*words: str) -> Callable[[str], str | None]:
    return lambda text: text.lower() if text.lower() in words else None


def _parse_word(text: str) -> str:
    return text.lower()


def _parse_filter(text: str) -> str:
    return "" if text.lower() == "none" else text


def _parse_families(text: str) -> tuple[str, ...]:
    return tuple(name.strip().strip("\"'").strip() for name in text.split(",") if name.strip())


def _parse_weight(text: str) -> float | None:
    """Return a weight as a number; `bolder` and `lighter` are taken from what is usual around them."""
    word = {"normal": 400.0, "lighter": 400.0, "bold": 700.0, "bolder": 700.0}.get(text.lower())
    number = _parse_number(text) if word is None else word
    return number if number is not None and 1 <= number <= 1000 else None


def _parse_slant(text: str) -> str | None:
    word = text.lower().split()[0]
    return word if word in ("normal", "italic", "oblique") else None


def _parse_spacing(text: str) -> Length | None:
    return _ZERO if text.lower() == "normal" else parse_length(text)


_PARSERS: dict[str, Callable[[str], object]] = {
    "color": _parse_own_colour,
    "fill": _parse_paint,
    "fill-rule": _one_of("nonzero", "evenodd"),
    "fill-opacity": _parse_opacity,
    "stroke": _parse_paint,
    "stroke-width": _parse_width,
    "stroke-linecap": _parse_cap,
    "stroke-linejoin": _parse_join,
    "stroke-miterlimit": _parse_miter_limit,
    "stroke-dasharray": _parse_dashes,
    "stroke-dashoffset": parse_length,
    "stroke-opacity": _parse_opacity,
    "clip-rule": _one_of("nonzero", "evenodd"),
    "visibility": _one_of("visible", "hidden", "collapse"),
    "paint-order": _parse_word,
    "font-family": _parse_families,
    "font-weight": _parse_weight,
    "font-style": _parse_slant,
    "letter-spacing": _parse_spacing,
    "word-spacing": _parse_spacing,
    "text-anchor": _one_of("start", "middle", "end"),
    "direction": _one_of("ltr", "rtl"),
    "dominant-baseline": _parse_word,
    "baseline-shift": _parse_word,
    "writing-mode": _parse_word,
    "white-space": _parse_word,
    "marker-start": parse_address,
    "marker-mid": parse_address,
    "marker-end": parse_address,
    "opacity": _parse_opacity,
    "display": _parse_word,
    "overflow": _parse_word,
    "clip-path": _parse_clip_path,
    "mask": parse_address,
    "filter": _parse_filter,
    "transform": parse_transform,
    "transform-origin": parse_origin,
    "transform-box": _parse_word,
    "vector-effect": _parse_word,
    "background-color": _parse_own_colour,
    "stop-color": _parse_plain_paint,
    "stop-opacity": _parse_opacity,
    "width": _parse_width,
    "height": _parse_width,
}
PROPERTIES = frozenset({*_PARSERS, "font-size"})
"""The properties that are looked at, besides variables."""
ATTRIBUTES = PROPERTIES - {"background-color", "width", "height"}
"""Those that may be written as attributes (SVG 2, 6.6)."""


@lru_cache(maxsize=16384)
def _parse(name: str, text: str) -> object:
    return _PARSERS[name](text)


def compute_style(parent: Style, declarations: Iterable[tuple[str, str]], root_font_size: float) -> Style:
    """Return an element's style from its parent's and its declared values, the winning ones last.

    A value in error counts as not declared (CSS Cascade 4, 4.1).
    """
    values: dict[str, Any] = dict(_RESET)
    pairs = list(declarations)
    variables = {name: text for name, text in pairs if name.startswith("--")}
    if variables:
        values["variables"] = {**parent.variables, **variables}
    for name, written in pairs:
        if name.startswith("--"):
            continue
        text = replace_variables(written, values.get("variables", parent.variables))
        if text is not None:
            _apply(values, name, text, parent, root_font_size)
    return replace(parent, **values)


def _apply(values: dict[str, Any], name: str, text: str, parent: Style, root_font_size: float) -> None:
    attribute, word = name.replace("-", "_"), text.lower()
    is_inherited = attribute not in _RESET
    if word == "inherit" or (word in ("unset", "revert", "revert-layer") and is_inherited):
        values[attribute] = getattr(parent, attribute)
    elif word in ("initial", "unset", "revert", "revert-layer"):
        values[attribute] = getattr(INITIAL, attribute)
    else:
        parsed = (
            _font_size(text, parent.font_size, root_font_size) if name == "font-size" else _parse(name, text)
        )
        if parsed is not None:
            values[attribute] = parsed


FONT_SIZES = {
    "xx-small": 9.0, "x-small": 10.0, "small": 13.0, "medium": 16.0, "large": 18.0, "x-large": 24.0,
    "xx-large": 32.0, "xxx-large": 48.0,
}  # fmt: skip
"""Sizes by name in px for a medium of 16 px (HTML standard, rendering of font sizes)."""


def _font_size(text: str, parent: float, root: float) -> float | None:
    word = text.lower()
    if word in FONT_SIZES:
        return FONT_SIZES[word]
    if word in ("larger", "smaller"):
        return parent * 1.2 if word == "larger" else parent / 1.2
    length = parse_length(text)
    if length is None or length.amount < 0:
        return None
    if length.unit == "%":
        return parent * length.amount / 100
    return to_px(length, Axis.BOTH, Measures(0, 0, 0, 0, parent, root))
