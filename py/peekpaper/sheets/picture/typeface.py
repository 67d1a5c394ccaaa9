"""How wide text runs in Helvetica, which PDF readers bring along and browsers match.

Widths in thousandths of the type size, from the Adobe Font Metrics of the core fonts (Adobe Systems, 1997).
"""

from peekpaper.sheets.picture.letters import letters_for
from peekpaper.sheets.plain_text import to_ascii

CAP_HEIGHT = 0.718
"""Height of the capitals as a part of the type size."""

_FIRST = 32
"""The letter that the tables begin with: the space."""
_REGULAR = (
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556,
    556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778,
    722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278,
    278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
    556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
)  # fmt: skip
"""Widths in thousandths of the type size, from the metrics of the PDF standard font Helvetica."""
_BOLD = (
    278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556,
    556, 556, 556, 556, 556, 556, 333, 333, 584, 584, 584, 611, 975, 722, 722, 722, 722, 667, 611, 778,
    722, 278, 556, 722, 611, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 333,
    278, 333, 584, 556, 333, 556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611,
    611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389, 280, 389, 584,
)  # fmt: skip
"""Those of Helvetica-Bold."""


def text_width(text: str, cap_height: float, bold: bool = False) -> float:
    """Return how wide `text` runs, in the unit of `cap_height`; signs not in Helvetica count as ASCII kin."""
    letters = letters_for(text)
    if letters is not None:
        return letters.width(text, bold) * cap_height / CAP_HEIGHT
    widths = _BOLD if bold else _REGULAR
    return sum(widths[ord(letter) - _FIRST] for letter in to_ascii(text)) / 1000 * cap_height / CAP_HEIGHT


def shortened(text: str, cap_height: float, room: float, bold: bool = False) -> str:
    """Return `text`, its end cut off where it would run wider than `room`."""
    if text_width(text, cap_height, bold) <= room:
        return text
    while text and text_width(f"{text}...", cap_height, bold) > room:
        text = text[:-1].rstrip()
    return f"{text}..."


def wrapped(text: str, cap_height: float, room: float, bold: bool = False) -> list[str]:
    """Return `text` in lines that run no wider than `room`, broken at spaces; a longer word is shortened."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if line and text_width(longer, cap_height, bold) > room:
            lines.append(line)
            longer = word
        line = shortened(longer, cap_height, room, bold)
    return [*lines, line] if line else lines
