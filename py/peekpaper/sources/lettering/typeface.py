"""Typefaces that words may be drawn in: those in a design's file, those that a person adds, our own."""

import struct
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from peekpaper.drawing.css.style import Style
from peekpaper.refusal import Refusal
from peekpaper.sources.lettering import woff

if TYPE_CHECKING:
    import uharfbuzz

MOST_BYTES = 32 << 20
"""Typefaces for large scripts take up to some 20 MB (from memory)."""
_WOFF2 = b"wOF2"
_OUTLINES = (b"\0\1\0\0", b"OTTO", b"true", b"ttcf")
_OUTLINE_TABLES = ("glyf", "CFF ", "CFF2")
_FAMILY_NAMES = ("TYPOGRAPHIC_FAMILY", "FONT_FAMILY", "FULL_NAME", "POSTSCRIPT_NAME")
_REGULAR = 400
_ITALIC_BIT = 1


@dataclass(frozen=True, slots=True)
class Typeface:
    """A typeface: the bytes of its TrueType or OpenType file, and the names that it goes by, its own first.

    `weights` is the range that it has, in the numbers of CSS Fonts 4, 2.2.
    """

    data: bytes
    names: tuple[str, ...]
    weights: tuple[float, float] = (_REGULAR, _REGULAR)
    is_italic: bool = False

    @property
    def name(self) -> str:
        """What the typeface calls itself."""
        return self.names[0]

    def is_called(self, name: str) -> bool:
        """Tell whether it goes by a name, as CSS compares names (CSS Fonts 4, 5.1)."""
        return name.casefold() in (own.casefold() for own in self.names)


def read_typeface(data: bytes) -> Typeface:
    """Return the typeface in a TrueType, OpenType or WOFF file.

    Raises Refusal for one that is broken, too large, packed as WOFF 2, or has no outlines.
    """
    if len(data) > MOST_BYTES:
        raise Refusal("typeface-too-large", megabytes=MOST_BYTES >> 20)
    if data.startswith(_WOFF2):
        raise Refusal("typeface-woff2")
    if data.startswith(woff.SIGNATURE):
        data = woff.unpacked(data, MOST_BYTES)
    if not data.startswith(_OUTLINES):
        raise Refusal("typeface-broken")
    try:
        return _read(data)
    except (MemoryError, Refusal):
        raise
    except Exception:  # whatever broken tables lead the library to
        raise Refusal("typeface-broken") from None


def _read(data: bytes) -> Typeface:
    # The library is there only once words are to be drawn.
    import uharfbuzz

    face = uharfbuzz.Face(data)
    has_outlines = any(len(face.reference_table(table)) for table in _OUTLINE_TABLES)
    if not (face.glyph_count and face.unicodes and has_outlines):
        raise Refusal("typeface-broken")
    weight, is_italic = _style_told(face)
    weights = [(axis.min_value, axis.max_value) for axis in face.axis_infos if axis.tag == "wght"]
    return Typeface(data, _names(face), weights[0] if weights else (weight, weight), is_italic)


def stand_in() -> Typeface:
    """Return the typeface that the package brings along, Arimo (OFL), for words whose own is missing."""
    import fontpkg_arimo

    file = Path(str(fontpkg_arimo.__file__)).parent / "files" / "Arimo[wght].ttf"
    return read_typeface(file.read_bytes())


def called(typeface: Typeface, name: str) -> Typeface:
    """Return a typeface that goes by the name that a file gives it alone."""
    return replace(typeface, names=(name,))


def best_of(typefaces: Sequence[Typeface], style: Style) -> Typeface | None:
    """Return the one of a family's typefaces that is nearest to a style: slant goes before weight."""

    def strangeness(one: Typeface) -> tuple[bool, float]:
        low, high = one.weights
        return one.is_italic != is_slanted(style), max(low - style.font_weight, style.font_weight - high, 0)

    return min(typefaces, key=strangeness, default=None)


def is_slanted(style: Style) -> bool:
    """Tell whether a style asks for italics."""
    return style.font_style != "normal"


def _names(face: "uharfbuzz.Face") -> tuple[str, ...]:
    import uharfbuzz

    found = [_name(face, uharfbuzz.OTNameIdPredefined[key]) for key in _FAMILY_NAMES]
    return tuple(dict.fromkeys(name for name in found if name)) or ("?",)


def _name(face: "uharfbuzz.Face", which: Any) -> str:
    return "".join(letter for letter in face.get_name(which) or "" if letter.isprintable()).strip()[:80]


def _style_told(face: "uharfbuzz.Face") -> tuple[float, bool]:
    """Return weight and slant by the table OS/2 (OpenType 1.9), regular and upright where there is none."""
    table = bytes(face.reference_table("OS/2").data)
    if len(table) < 64:
        return _REGULAR, False
    (weight,) = struct.unpack_from(">H", table, 4)
    (selection,) = struct.unpack_from(">H", table, 62)
    return min(1000, max(1, weight)), bool(selection & _ITALIC_BIT)
