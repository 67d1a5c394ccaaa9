"""Letters made of strokes, for pens and for pictures without a font.

The shapes are the Roman simplex of A. V. Hershey, "Calligraphy for computers" (U.S. Naval Weapons Laboratory,
1967), which are free of rights, from the library Hershey-Fonts.
"""

from functools import cache

import numpy as np

from peekpaper.geometry.outline import Floats
from peekpaper.sheets.plain_text import to_ascii

_CAP_HEIGHT = 21.0
"""Height of the capitals and digits in the font's own units."""

_MIDDLE = -1.5
"""Where half that height lies, y down."""

Glyph = tuple[float, tuple[Floats, ...]]


@cache
def _glyphs() -> dict[str, Glyph]:
    # Read only where something is lettered; the library has no types.
    from HersheyFonts import HersheyFonts  # type: ignore[import-untyped]

    font = HersheyFonts()
    font.load_default_font("futural")
    glyphs = {}
    for code in range(32, 127):
        (glyph,) = font.glyphs_for_text(chr(code))
        strokes = tuple(
            (np.asarray(stroke, dtype=np.float64) - (glyph.left_offset, _MIDDLE)) / _CAP_HEIGHT
            for stroke in glyph.strokes
        )
        glyphs[chr(code)] = (glyph.char_width / _CAP_HEIGHT, strokes)
    return glyphs


def lettered_width(text: str, cap_height: float) -> float:
    """Return how wide `text` runs at the given height of its capitals."""
    glyphs = _glyphs()
    return cap_height * sum(glyphs[letter][0] for letter in to_ascii(text))


def lettered(text: str, x: float, y: float, cap_height: float, centred: bool) -> list[Floats]:
    """Return the strokes of `text` as polylines of shape (k, 2).

    (`x`, `y`) is the middle of the text where `centred`, else the left end of its middle line, y down.
    """
    glyphs = _glyphs()
    plain = to_ascii(text)
    pen = -lettered_width(plain, 1.0) / 2 if centred else 0.0
    strokes = []
    for letter in plain:
        advance, shapes = glyphs[letter]
        strokes += [(shape + np.array([pen, 0.0])) * cap_height + np.array([x, y]) for shape in shapes]
        pen += advance
    return strokes
