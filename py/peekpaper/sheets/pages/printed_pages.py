"""Papers printed at home: trims several to a page, pieces for scissors, and patches to try the colours."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from peekpaper.geometry.affine import Floats, after, moved
from peekpaper.geometry.grid import one_grown
from peekpaper.geometry.outline import rectangle
from peekpaper.papers.paper import PRINT_BLEED_MM, PRINT_FOOT_MM, PRINT_RIM_MM, Paper
from peekpaper.plan.plan import PlacedPiece, SheetPlacement, Trim
from peekpaper.sheets.choices import SheetChoices
from peekpaper.sheets.pages.page import SMALL, TEXT, Leaf, pages, paragraph, type_area
from peekpaper.sheets.paper_names import paper_letters, trim_tags, used_papers
from peekpaper.sheets.picture.colours import INK, PALE_INK, WHITE
from peekpaper.sheets.picture.picture import Anchor, Area, Mark, Pattern, Picture, Stroke, Words, moved_mark
from peekpaper.sheets.picture.typeface import shortened, text_width
from peekpaper.sheets.work import Work
from peekpaper.words.words import Language

_MARK_FROM_MM, _MARK_TO_MM = 2.5, 5.5
"""Where a cut mark begins and ends, from the trim's corner: past the bleed, short of the next trim's."""
_MARK_PEN_MM = 0.15
"""A line that a knife can follow to a fifth of a millimetre."""
_PIECE_GAP_MM = 3.0
"""Between pieces printed one by one: room to cut."""
_NUMBER_MM = 4.2
"""The height of the line of a piece's number above it."""
_STRIP_MM = 36.0
"""The side of a sample on the test strip: what an eye needs to judge a colour (from memory)."""
_STRIP_GAP_MM = 8.0
"""Between samples, so that neighbours do not colour one another."""


def has_prints(work: Work) -> bool:
    """Tell whether any trim is printed."""
    return any(trim.printed_at for trim in work.plan.trims)


def trial_pages(work: Work, choices: SheetChoices) -> list[Picture]:
    """Return pages with a patch of each printed paper in use, at true scale."""
    free = type_area(choices.paper_size)
    letters, say = paper_letters(work), work.words.text
    said, top = paragraph(say("print.colours"), free.x, free.y, min(free.width, 165))
    top += TEXT * 2
    row_height = _STRIP_MM + 3 * TEXT + _STRIP_GAP_MM
    columns = int((free.width + _STRIP_GAP_MM) // (_STRIP_MM + _STRIP_GAP_MM))
    rows = max(1, int((free.y + free.height - top) // row_height))
    papers = _printed(work)
    leaves = []
    for first in range(0, len(papers), rows * columns):
        marks = list(said)
        for index, paper in enumerate(papers[first : first + rows * columns]):
            row, column = divmod(index, columns)
            x, y = free.x + column * (_STRIP_MM + _STRIP_GAP_MM), top + row * row_height
            corner = np.array([[1.0, 0.0, x], [0.0, 1.0, y]])
            marks.append(_pattern(work, paper, (rectangle(x, y, _STRIP_MM, _STRIP_MM),), corner))
            name = shortened(f"{letters[paper.id]}  {paper.name}", TEXT, _STRIP_MM)
            marks.append(Words(name, x, y + _STRIP_MM + 1.5 * TEXT, TEXT, INK))
        leaves.append(Leaf(say("print.test-strip"), say("print.test-strip-note"), tuple(marks)))
    title = say("print.document-test-strip", name=work.project.name)
    return pages(title, leaves, choices.paper_size, work.words)


def printed_trim_pages(work: Work, choices: SheetChoices) -> list[Picture]:
    """Return the printed trims at true size, each paper on its own printer's paper.

    Patterns reach past the trims; cut marks, numbers and sizes stand outside.
    """
    tags = trim_tags(work)
    made = []
    for paper in _printed(work):
        printed = [
            (trim, trim.printed_at) for trim in work.plan.trims if trim.paper == paper.id and trim.printed_at
        ]
        for page in range(1, max(spot.sheet for _, spot in printed) + 1):
            marks: list[Mark] = []
            for trim, spot in printed:
                if spot.sheet == page:
                    size = work.words.size(trim.width_mm, trim.height_mm, choices.unit)
                    marks += _printed_trim(work, paper, trim, spot, (tags[trim.id], size))
            made.append((paper, "print.printed-trims", marks))
    return _numbered(work, made)


def printed_piece_pages(work: Work) -> list[Picture]:
    """Return the pieces of printed trims at true size for scissors, with bleed, outline and number."""
    made = []
    for paper in _printed(work):
        blocks = [
            _piece_block(work, paper, piece)
            for trim in work.plan.trims
            if trim.paper == paper.id and trim.printed_at
            for piece in trim.pieces
        ]
        blocks.sort(key=lambda block: -block.height)
        made += [(paper, "print.printed-pieces", marks) for marks in _in_rows(blocks, paper)]
    return _numbered(work, made)


def _printed(work: Work) -> list[Paper]:
    printed = {trim.paper for trim in work.plan.trims if trim.printed_at}
    return [paper for paper in used_papers(work) if paper.id in printed]


def _pattern(work: Work, paper: Paper, rings: tuple[Floats, ...], matrix: Floats) -> Area:
    """Return rings filled with a paper's pattern, laid by `matrix`; plain where it has none."""
    pattern = work.patterns.get(paper.id)
    if pattern is None:
        return Area(rings, paper.colour)
    return Pattern(rings, paper.colour, pattern.raster, pattern.width_mm, matrix)


def _corner(paper: Paper) -> float:
    """Return how far the corner of a page's type area is from its edges."""
    assert paper.print_margin_mm is not None
    return paper.print_margin_mm + PRINT_RIM_MM


def _printed_trim(
    work: Work, paper: Paper, trim: Trim, spot: SheetPlacement, labels: tuple[str, str]
) -> list[Mark]:
    width, height = (trim.height_mm, trim.width_mm) if spot.turned else (trim.width_mm, trim.height_mm)
    x, y = (at + _corner(paper) for at in (spot.x_mm, spot.y_mm))
    turned = np.array([[0.0, -1.0, x + width], [1.0, 0.0, y]])
    to_page = turned if spot.turned else np.array([[1.0, 0.0, x], [0.0, 1.0, y]])
    bleed = PRINT_BLEED_MM
    covered = rectangle(x - bleed, y - bleed, width + 2 * bleed, height + 2 * bleed)
    tag, size = labels
    above = y - (_MARK_FROM_MM + _MARK_TO_MM) / 2
    room_above = width - 2
    marks: list[Mark] = [
        _pattern(work, paper, (covered,), after(to_page, _pattern_to_trim())),
        Stroke(_cut_marks(x, y, width, height), INK, _MARK_PEN_MM),
        Words(tag, x + 1, above, SMALL, INK, bold=True),
    ]
    tag_width = text_width(tag, SMALL, bold=True) + 2
    if tag_width + text_width(size, SMALL) < room_above:
        marks.append(Words(size, x + 1 + tag_width, above, SMALL, PALE_INK))
    return marks


def _pattern_to_trim() -> Floats:
    """Return the matrix from a pattern to a trim: what is printed around the trim begins at its corner."""
    return np.array([[1.0, 0.0, -PRINT_BLEED_MM], [0.0, 1.0, -PRINT_BLEED_MM]])


def _cut_marks(x: float, y: float, width: float, height: float) -> tuple[Floats, ...]:
    """Return lines that go on with a rectangle's sides, clear of its corners."""
    lines = []
    for at, out in ((x, -1), (x + width, 1)):
        for side in (y, y + height):
            lines.append(np.array([[at + out * _MARK_FROM_MM, side], [at + out * _MARK_TO_MM, side]]))
    for at, out in ((y, -1), (y + height, 1)):
        for side in (x, x + width):
            lines.append(np.array([[side, at + out * _MARK_FROM_MM], [side, at + out * _MARK_TO_MM]]))
    return tuple(lines)


@dataclass(frozen=True, slots=True, eq=False)
class _Block:
    """A piece with its number, marks from the top left corner of a box of that size in mm."""

    width: float
    height: float
    marks: tuple[Mark, ...]


def _piece_block(work: Work, paper: Paper, piece: PlacedPiece) -> _Block:
    """Return a piece as it lies in its trim, so that its bit of pattern is the one that the screen shows."""
    left, top, right, bottom = piece.outline.bounds
    covered = one_grown(piece.outline, PRINT_BLEED_MM)
    x, y = PRINT_BLEED_MM - left, PRINT_BLEED_MM + _NUMBER_MM - top
    move = np.array([[1.0, 0.0, x], [0.0, 1.0, y]])
    ring = moved(shapely.get_coordinates(shapely.get_exterior_ring(covered)), move)
    outline = moved(shapely.get_coordinates(piece.outline.exterior), move)
    marks: tuple[Mark, ...] = (
        _pattern(work, paper, (ring,), after(move, _pattern_to_trim())),
        # A line that shows on dark and on pale patterns.
        Stroke((outline,), WHITE, 0.3),
        Stroke((outline,), INK, 0.1),
        Words(str(piece.number), 0.0, _NUMBER_MM / 2 - 0.3, TEXT, INK, bold=True),
    )
    width = right - left + 2 * PRINT_BLEED_MM
    number = text_width(str(piece.number), TEXT, bold=True)
    return _Block(max(width, number), bottom - top + 2 * PRINT_BLEED_MM + _NUMBER_MM, marks)


def _in_rows(blocks: Sequence[_Block], paper: Paper) -> Iterator[list[Mark]]:
    """Yield the marks of each page of blocks, laid in rows from the top left of a printed paper's page."""
    margin = paper.print_margin_mm or 0.0
    width = paper.sheet_width_mm - 2 * margin
    height = paper.sheet_height_mm - 2 * margin - PRINT_FOOT_MM
    marks: list[Mark] = []
    x = y = row = 0.0
    for block in blocks:
        if x > 0 and x + block.width > width:
            x, y, row = 0.0, y + row + _PIECE_GAP_MM, 0.0
        if marks and y + block.height > height:
            yield marks
            marks, x, y, row = [], 0.0, 0.0, 0.0
        marks += [moved_mark(mark, margin + x, margin + y) for mark in block.marks]
        x, row = x + block.width + _PIECE_GAP_MM, max(row, block.height)
    if marks:
        yield marks


def _numbered(work: Work, made: Sequence[tuple[Paper, str, list[Mark]]]) -> list[Picture]:
    """Return pages with a measured bar and what they are at their foot."""
    letters = paper_letters(work)
    pictures = []
    for number, (paper, key, marks) in enumerate(made, 1):
        name = f"{letters[paper.id]}  {paper.name}"
        title = work.words.text(key, name=work.project.name, paper=name, number=number, pages=len(made))
        foot = _foot(paper, title, work.words)
        pictures.append(Picture(title, paper.sheet_width_mm, paper.sheet_height_mm, (*marks, *foot)))
    return pictures


def _foot(paper: Paper, title: str, words: Language) -> list[Mark]:
    margin = (paper.print_margin_mm or 0.0) + 1.0
    wide = paper.sheet_width_mm - 2 * margin
    bar = 100.0 if wide >= 150 else 50.0
    y = paper.sheet_height_mm - margin - 4.5
    ends = [
        np.array([[at, y - 1.5], [at, y + 1.5]])
        for at in np.linspace(margin, margin + bar, int(bar / 10) + 1)
    ]
    line = np.array([[margin, y], [margin + bar, y]])
    beside = margin + bar + 3
    said = words.text("print.foot-bar", bar=words.length(bar, "mm"))
    return [
        Stroke((line, *ends), INK, _MARK_PEN_MM),
        Words(shortened(said, SMALL, margin + wide - beside), beside, y, SMALL, PALE_INK),
        Words(shortened(title, SMALL, wide), margin, y + 3.6, SMALL, PALE_INK, Anchor.START),
    ]
