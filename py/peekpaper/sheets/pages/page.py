"""The pages of a document: one frame for all, with a bar that tells whether the size is true."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from peekpaper.lengths import MM_PER_INCH
from peekpaper.sheets.paper_sizes import PaperSize
from peekpaper.sheets.picture.colours import HAIRLINE, INK, PALE_INK
from peekpaper.sheets.picture.picture import Anchor, Mark, Picture, Stroke, Words
from peekpaper.sheets.picture.typeface import shortened, text_width, wrapped
from peekpaper.words.words import Language

SMALL, TEXT, HEADING, TITLE = 1.9, 2.2, 2.9, 4.4
"""The type scale: heights of the capitals in mm."""

LEADING = 2.1
"""From line to line, as a multiple of the height of the capitals."""

_RIM = 12.7
"""Half an inch that printers leave white at most (common practice, no published source)."""
_HEAD = 19.0
"""The height of title and note in mm."""
_FOOT = 15.0
"""The height of the bar with its figures in mm."""
_BAR_MM = 100.0
"""The bar of known length, in mm along its one side ..."""
_BAR_IN = 4
"""... and in inches along the other: about as long."""


@dataclass(frozen=True, slots=True)
class TypeArea:
    """The part of a page that is free for content, in mm from its top left corner."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True, eq=False)
class Leaf:
    """A page's content: its title, a line below it, its marks, and whether it lies on its side."""

    title: str
    note: str
    marks: tuple[Mark, ...]
    sideways: bool = False


def type_area(paper: PaperSize, sideways: bool = False) -> TypeArea:
    """Return where the content of a page goes."""
    width, height = _sides(paper, sideways)
    return TypeArea(_RIM, _RIM + _HEAD, width - 2 * _RIM, height - 2 * _RIM - _HEAD - _FOOT)


def pages(document: str, leaves: Sequence[Leaf], paper: PaperSize, words: Language) -> list[Picture]:
    """Return the leaves as pages, each with the document's name, its number and the check bar."""
    return [
        _page(document, leaf, words.text("print.page", number=number, pages=len(leaves)), paper, words)
        for number, leaf in enumerate(leaves, 1)
    ]


def _sides(paper: PaperSize, sideways: bool) -> tuple[float, float]:
    return (paper.height_mm, paper.width_mm) if sideways else (paper.width_mm, paper.height_mm)


def _page(document: str, leaf: Leaf, count: str, paper: PaperSize, words: Language) -> Picture:
    width, height = _sides(paper, leaf.sideways)
    right = width - _RIM
    line_width = right - _RIM
    head_room = line_width - text_width(count, SMALL) - 6
    marks: list[Mark] = [
        Words(shortened(document, SMALL, head_room), _RIM, _RIM + 1, SMALL, PALE_INK),
        Words(count, right, _RIM + 1, SMALL, PALE_INK, Anchor.END),
        Words(shortened(leaf.title, TITLE, line_width, bold=True), _RIM, _RIM + 7.6, TITLE, INK, bold=True),
        Words(shortened(leaf.note, TEXT, line_width), _RIM, _RIM + 13.6, TEXT, PALE_INK),
        *leaf.marks,
        *_check_bar(_RIM, height - _RIM - 5, line_width, words),
    ]
    return Picture(f"{document}, {leaf.title}", width, height, tuple(marks))


def _check_bar(x: float, y: float, room_mm: float, words: Language) -> list[Mark]:
    """Return a bar with 100 mm on its upper side and 4 in on its lower one, and what it is for."""

    def tick(at: float, length: float) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
        return np.array([[x + at, y], [x + at, y + length]])

    inches = MM_PER_INCH * _BAR_IN
    millimetres = tuple(tick(at, -2.6 if at % 50 == 0 else -1.4) for at in np.arange(0, _BAR_MM + 1, 10))
    eighths = tuple(tick(at * MM_PER_INCH / 8, 2.6 if at % 8 == 0 else 1.2) for at in range(8 * _BAR_IN + 1))
    line = np.array([[x, y], [x + inches, y]])
    marks: list[Mark] = [Stroke((line, *millimetres, *eighths), INK, 0.15)]
    marks += [
        Words(label, x + at, y - 4.2, SMALL * 0.8, PALE_INK, Anchor.MIDDLE)
        for at, label in ((0.0, "0"), (50.0, "50"), (100.0, "100 mm"))
    ]
    marks += [
        Words(
            f"{inch} in" if inch == _BAR_IN else str(inch),
            x + inch * MM_PER_INCH,
            y + 4.2,
            SMALL * 0.8,
            PALE_INK,
            Anchor.MIDDLE,
        )
        for inch in range(_BAR_IN + 1)
    ]
    sentences = (words.text("print.at-true-size"), words.text("print.measure-bar"))
    lines = [line for text in sentences for line in wrapped(text, SMALL, room_mm - inches - 9)]
    marks += [
        Words(text, x + inches + 9, y + (index - (len(lines) - 1) / 2) * SMALL * LEADING, SMALL, PALE_INK)
        for index, text in enumerate(lines)
    ]
    return marks


def rule(x: float, y: float, width: float) -> Stroke:
    """Return a hairline across a page."""
    return Stroke((np.array([[x, y], [x + width, y]]),), HAIRLINE, 0.15)


def paragraph(text: str, x: float, y: float, width: float, bold: bool = False) -> tuple[list[Mark], float]:
    """Return text in lines from `y` on, and the y below it."""
    lines = wrapped(text, TEXT, width, bold)
    step = TEXT * LEADING
    marks: list[Mark] = [
        Words(line, x, y + (index + 0.5) * step, TEXT, INK, bold=bold) for index, line in enumerate(lines)
    ]
    return marks, y + len(lines) * step
