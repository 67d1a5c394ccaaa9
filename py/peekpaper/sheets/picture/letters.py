"""How text is set that Helvetica has no letters for: from which file, how wide, in which order.

The typeface is Arimo (SIL Open Font License 1.1): Latin, Greek, Cyrillic and Hebrew in Helvetica's widths. It
is an extra of the package, fetched by the page only where a name wants it. Where it is missing, and for the
scripts that it lacks, letters are romanised.
"""

import unicodedata
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from peekpaper.sheets.plain_text import composed, fits_latin_1, romanised

if TYPE_CHECKING:
    from fontTools.ttLib import TTFont

REGULAR_WEIGHT = 400.0
"""Where regular lies on a typeface's weight axis (OpenType, usWeightClass)."""
BOLD_WEIGHT = 700.0
"""Where bold lies on it."""


@dataclass(frozen=True)
class Letters:
    """A typeface in a file with a weight axis; raises OSError where the file can't be read."""

    path: Path

    @cached_property
    def _font(self) -> "TTFont":
        from fontTools.ttLib import TTFont

        return TTFont(self.path, lazy=True)

    def written(self, text: str) -> str:
        """Return `text` in the letters of this typeface, in the order in which they stand from left to right.

        The order is that of the Unicode bidirectional algorithm (Unicode Standard Annex 9).
        """
        had = self._font.getBestCmap()
        return _from_left_to_right(
            "".join(one if ord(one) in had else romanised(one) for one in composed(text))
        )

    def width(self, text: str, bold: bool) -> float:
        """Return how wide `text` runs, in type sizes."""
        font = self._font
        had = font.getBestCmap()
        glyphs = font.getGlyphSet(location={"wght": BOLD_WEIGHT if bold else REGULAR_WEIGHT})
        return float(sum(glyphs[had[ord(one)]].width for one in self.written(text)) / font["head"].unitsPerEm)


def letters_for(text: str) -> Letters | None:
    """Return what `text` is set in, or None where that is Helvetica: it does, or nothing else is there."""
    return _letters() if wants_letters(text) else None


def wants_letters(text: str) -> bool:
    """Return whether a letter, not only a sign, stands in `text` that Latin-1 does not hold."""
    return any(unicodedata.category(one)[0] in "LM" and not fits_latin_1(one) for one in composed(text))


def _letters() -> Letters | None:
    # It may come later than other parts do, so that it is missing is not for keeps.
    try:
        import fontpkg_arimo
    except ImportError:
        return None
    return _opened(Path(str(fontpkg_arimo.__file__)).parent / "files" / "Arimo[wght].ttf")


@cache
def _opened(path: Path) -> Letters:
    return Letters(path)


def _from_left_to_right(text: str) -> str:
    from fpdf.bidi import BIDI_BRACKETS, BidiParagraph

    if not any(unicodedata.bidirectional(one) in {"R", "AL"} for one in text):
        return text
    placed = BidiParagraph(text=text).get_reordered_characters()
    # What opens a bracket where one reads from the right closes it where one reads from the left (rule L4).
    return "".join(
        BIDI_BRACKETS[one.character]["pair"]
        if one.embedding_level % 2 and one.character in BIDI_BRACKETS
        else one.character
        for one in placed
    )
