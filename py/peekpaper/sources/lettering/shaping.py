"""Letters to glyphs, by the typeface's own rules for kerning, ligatures and joined scripts (by HarfBuzz)."""

import struct
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import TYPE_CHECKING, Any

from peekpaper.drawing.css.style import Style
from peekpaper.sources.lettering.typeface import Typeface, is_slanted

if TYPE_CHECKING:
    import uharfbuzz

SLANT = 0.2
"""Of an upright typeface where italics are asked for: 11 degrees (common practice, no published source)."""
_NO_LIGATURES = {"liga": False, "clig": False}
Command = tuple[str, tuple[complex, ...]]
"""A letter of SVG's path data and its points."""


@dataclass(frozen=True, slots=True)
class Glyph:
    """A glyph: its number, the first of the letters that it stands for, and its places.

    Lengths are in ems, y up.
    """

    number: int
    letter: int
    advance: float
    offset: complex


@dataclass(frozen=True, slots=True)
class Metrics:
    """Heights above the baseline, in ems."""

    ascent: float
    descent: float
    x_height: float


@dataclass(slots=True)
class Shaper:
    """A typeface at a weight, upright or slanted, ready to shape and draw."""

    font: "uharfbuzz.Font"
    metrics: Metrics
    _drawn: dict[int, tuple[Command, ...]] = field(default_factory=dict)

    def has(self, letter: str) -> bool:
        """Tell whether the typeface has a letter; what shows nothing is never missed."""
        return letter.isspace() or not letter.isprintable() or bool(self.font.get_nominal_glyph(ord(letter)))

    def shape(self, words: Sequence[str], spaced: bool) -> list[Glyph]:
        """Return the glyphs of letters that stand together, from left to right.

        What is `spaced` out has no ligatures (CSS Text 3, 8.2).
        """
        import uharfbuzz

        buffer = uharfbuzz.Buffer()
        buffer.add_codepoints([ord(letter) for letter in words])
        buffer.guess_segment_properties()
        features: Mapping[str, Any] = _NO_LIGATURES if spaced else {}
        uharfbuzz.shape(self.font, buffer, dict(features))
        em = self.font.face.upem
        return [
            Glyph(
                info.codepoint,
                info.cluster,
                place.x_advance / em,
                complex(place.x_offset, place.y_offset) / em,
            )
            for info, place in zip(buffer.glyph_infos, buffer.glyph_positions or (), strict=True)
        ]

    def outlines(self, number: int) -> tuple[Command, ...]:
        """Return a glyph's outlines in ems, y up."""
        if number not in self._drawn:
            commands: list[Command] = []
            self.font.draw_glyph(number, _draw_functions(), (commands, self.font.face.upem))
            self._drawn[number] = tuple(commands)
        return self._drawn[number]


def shaper(typeface: Typeface, style: Style) -> Shaper:
    """Return a typeface at the weight that a style asks for, slanted where it has no italics of its own."""
    import uharfbuzz

    face = uharfbuzz.Face(typeface.data)
    font = uharfbuzz.Font(face)
    low, high = typeface.weights
    if low < high:
        font.set_variations({"wght": min(high, max(low, style.font_weight))})
    if is_slanted(style) and not typeface.is_italic:
        font.synthetic_slant = SLANT
    extents = font.get_font_extents("ltr")
    em = face.upem
    return Shaper(font, Metrics(extents.ascender / em, extents.descender / em, _x_height(face) / em))


def _x_height(face: "uharfbuzz.Face") -> float:
    """Return the height of small letters by the table OS/2 (version 2 and later), half an em without it."""
    table = bytes(face.reference_table("OS/2").data)
    height = struct.unpack_from(">h", table, 86)[0] if len(table) >= 88 else 0
    return float(height) if height > 0 else face.upem / 2


@cache
def _draw_functions() -> "uharfbuzz.DrawFuncs":
    """Return what takes a glyph's outlines down, as HarfBuzz hands them out: pairs of numbers."""
    import uharfbuzz

    def taker(letter: str) -> Callable[..., None]:
        def take(*numbers_and_taken: Any) -> None:
            *numbers, (commands, em) = numbers_and_taken
            points = zip(numbers[::2], numbers[1::2], strict=True)
            commands.append((letter, tuple(complex(x, y) / em for x, y in points)))

        return take

    functions = uharfbuzz.DrawFuncs()
    functions.set_move_to_func(taker("M"))
    functions.set_line_to_func(taker("L"))
    functions.set_quadratic_to_func(taker("Q"))
    functions.set_cubic_to_func(taker("C"))
    functions.set_close_path_func(taker("Z"))
    return functions
