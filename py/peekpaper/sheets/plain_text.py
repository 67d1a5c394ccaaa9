"""Names in the letters that old formats and small fonts have, and in cells of tables."""

import re
import unicodedata


def to_latin_1(text: str) -> str:
    """Return `text` in Latin-1 letters, romanised where it is written in others."""
    return "".join(letter if fits_latin_1(letter) else romanised(letter) for letter in composed(text))


def to_ascii(text: str) -> str:
    """Return `text` in printable ASCII, romanised where it is written in other letters."""
    return "".join(letter if " " <= letter <= "~" else romanised(letter) for letter in composed(text))


def file_stem(text: str, longest: int = 60) -> str:
    """Return `text` as part of a file name safe on every system: small letters, digits, hyphens."""
    return re.sub(r"[^a-z0-9]+", "-", to_ascii(text).lower())[:longest].strip("-")


def composed(text: str) -> str:
    """Return `text` with accents joined to their letters (Unicode form C) and single spaces."""
    return " ".join(unicodedata.normalize("NFC", text).split())


def fits_latin_1(letter: str) -> bool:
    """Return whether a letter or sign stands in Latin-1, which the core fonts of PDF are written in."""
    return " " <= letter <= "~" or "\u00a0" <= letter <= "\u00ff"


def romanised(letter: str) -> str:
    """Return a letter or sign in printable ASCII; one that nothing stands for gives nothing."""
    # Its tables are read only where a name needs them.
    from anyascii import anyascii

    return "".join(part for part in anyascii(letter) if " " <= part <= "~")


def inert(cell: object) -> str:
    """Return a cell that no spreadsheet takes for a formula."""
    text = str(cell)
    return f"'{text}" if text[:1] in "=+-@\t\r" and text else text
