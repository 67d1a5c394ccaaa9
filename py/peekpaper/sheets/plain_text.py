"""Names in the letters that old formats and small fonts have."""

import re
import unicodedata


def to_latin_1(text: str) -> str:
    """Return `text` in Latin-1 letters, romanised where it is written in others."""
    return "".join(letter if _fits(letter) else _romanised(letter) for letter in _composed(text))


def to_ascii(text: str) -> str:
    """Return `text` in printable ASCII, romanised where it is written in other letters."""
    return "".join(letter if " " <= letter <= "~" else _romanised(letter) for letter in _composed(text))


def file_stem(text: str, longest: int = 60) -> str:
    """Return `text` as part of a file name safe on every system: small letters, digits, hyphens."""
    return re.sub(r"[^a-z0-9]+", "-", to_ascii(text).lower())[:longest].strip("-")


def _composed(text: str) -> str:
    return " ".join(unicodedata.normalize("NFC", text).split())


def _fits(letter: str) -> bool:
    return " " <= letter <= "~" or "\u00a0" <= letter <= "\u00ff"


def _romanised(letter: str) -> str:
    # Its tables are read only where a name needs them.
    from anyascii import anyascii

    return "".join(part for part in anyascii(letter) if " " <= part <= "~")
