"""Printed templates for scissors and knife: the card, the whole-back, and the pieces paper by paper."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from peekpaper.geometry.affine import after, moved
from peekpaper.geometry.overlay import difference
from peekpaper.plan.plan import Trim
from peekpaper.sheets.areas_to_cut import AreaToCut, card_areas, whole_back_areas
from peekpaper.sheets.choices import SheetChoices
from peekpaper.sheets.loose_bits import bits_in_words
from peekpaper.sheets.pages.cautions import FOR_CUTTING
from peekpaper.sheets.pages.page import HEADING, TEXT, Leaf, TypeArea, pages, paragraph, type_area
from peekpaper.sheets.pages.table import Column, Row, tables
from peekpaper.sheets.pages.tiles import tiled
from peekpaper.sheets.paper_names import paper_letters, trim_tags, used_papers
from peekpaper.sheets.picture.colours import HAIRLINE, INK, PALE_INK
from peekpaper.sheets.picture.fills import fills
from peekpaper.sheets.picture.picture import Anchor, Mark, Picture, Stroke, Words, moved_mark
from peekpaper.sheets.picture.placed_numbers import PlacedNumber, placed_numbers
from peekpaper.sheets.picture.typeface import shortened
from peekpaper.sheets.places import as_cut, edge_of
from peekpaper.sheets.work import Work
from peekpaper.words.words import Language

_CUT_MM = 0.2
"""The line to cut along: seen well, and thinner than a hand errs."""
_DASH_MM = 1.5
"""The dashes of lines that are not cut."""
_LEAST_CAP_MM = 1.5
"""The smallest numbers: about those of 6 point type."""
_LARGEST_CAP_MM = 3.2
"""The largest numbers: about those of 13 point type."""
_CAPTION_MM = 6.5
"""The height of a piece's caption above it."""
_GAP_MM = 8.0
"""Between pieces on one page: room for scissors (from memory)."""
_AROUND_MM = 50.0
"""How far around a trim its numbers are kept from going: further than one is ever laid beside its piece."""


def template_pages(work: Work, choices: SheetChoices) -> list[Picture]:
    """Return the pages of the templates, all at true size, mirrored where the choices say so."""
    leaves = [
        *_cover(work, choices),
        *(leaf for taken in card_areas(work) for leaf in _area_leaves(taken, work, choices)),
        *_piece_leaves(work, choices),
        *(leaf for taken in whole_back_areas(work) for leaf in _area_leaves(taken, work, choices)),
    ]
    title = work.words.text("print.document-templates", name=work.project.name)
    return pages(title, leaves, choices.paper_size, work.words)


def _cover(work: Work, choices: SheetChoices) -> list[Leaf]:
    """Return how to go about it and the numbers of each paper's pieces, which may run over pages."""
    free = type_area(choices.paper_size)
    letters, say = paper_letters(work), work.words.text
    marks: list[Mark] = []
    y = free.y
    for key in (*_STEPS, *FOR_CUTTING):
        lines, y = paragraph(say(key), free.x, y, min(free.width, 165))
        marks += lines
        y += TEXT
    y += HEADING * 2
    rows, shown = [], fills(work)
    for paper in used_papers(work):
        numbers = [piece.number for piece in work.backing.pieces if piece.paper == paper.id]
        name = f"{letters[paper.id]}  {paper.name}"
        rows.append(Row((name, str(len(numbers)), work.words.runs(numbers)), shown[paper.id]))
    columns = (
        Column(say("print.paper"), 4),
        Column(say("print.pieces"), 1, Anchor.END),
        Column(say("print.their-numbers"), 7),
    )
    first, *others = tables(columns, rows, free.width, (free.y + free.height - y, free.height))
    marks += [moved_mark(mark, free.x, y) for mark in first.marks]
    sheets = [marks, *([moved_mark(mark, free.x, free.y) for mark in table.marks] for table in others)]
    note = f"{choices.paper_size}. {_note(work, choices)}"
    return [Leaf(say("print.templates"), note, tuple(marks)) for marks in sheets]


def _area_leaves(taken: AreaToCut, work: Work, choices: SheetChoices) -> list[Leaf]:
    """Return a part of the design with its numbered bits, at true size in tiles.

    Dashed lines tell where the edges of other parts go.
    """
    left, top, right, bottom = taken.bounds
    width, height, bits = right - left, bottom - top, taken.bits
    side = after(as_cut(width, choices), np.array([[1.0, 0.0, -left], [0.0, 1.0, -top]]))
    rings = tuple(
        moved(shapely.get_coordinates(ring), side)
        for polygon in (*taken.area.geoms, *(bit.area for bit in bits))
        for ring in (polygon.exterior, *polygon.interiors)
    )
    marks: list[Mark] = [Stroke(rings, INK, _CUT_MM)]
    if not taken.marks.is_empty:
        lines = tuple(moved(shapely.get_coordinates(line), side) for line in taken.marks.geoms)
        marks.append(Stroke(lines, PALE_INK, _CUT_MM, _DASH_MM))
    if bits:
        areas = list(shapely.transform([bit.area for bit in bits], lambda points: moved(points, side)))
        texts = [bit.name for bit in bits]
        marks += _written(placed_numbers(areas, texts, _LEAST_CAP_MM, _LARGEST_CAP_MM, areas))
    words = work.words
    size = words.size(width, height, choices.unit)
    note = words.text("print.area-mirrored" if choices.mirrored else "print.area", size=size)
    if not taken.marks.is_empty:
        note += " " + words.text("print.area-marks")
    if bits:
        note += " " + words.text("print.bits-fall-out", count=len(bits), bits=bits_in_words(bits, words))
    picture = Picture(taken.title, width, height, tuple(marks))
    return tiled(picture, taken.title, note, choices.paper_size, words)


def _written(numbers: Sequence[PlacedNumber]) -> list[Mark]:
    leaders = tuple(number.leader for number in numbers if number.leader is not None)
    words = [
        Words(number.text, number.x, number.y, number.cap_height, INK, Anchor.MIDDLE) for number in numbers
    ]
    return [Stroke(leaders, INK, 0.15), *words] if leaders else list(words)


_STEPS = ("print.template-print", "print.template-cut", "print.template-numbers")
"""How to go about it: keys of its words."""


@dataclass(frozen=True, slots=True, eq=False)
class _Block:
    """A trim with its caption, and the letter and name of its paper."""

    letter: str
    paper: str
    picture: Picture


def _piece_leaves(work: Work, choices: SheetChoices) -> list[Leaf]:
    """Return the trims, several to a page, paper by paper; those larger than a page in tiles."""
    free = type_area(choices.paper_size)
    order = {paper.id: paper for paper in used_papers(work)}
    letters, tags = paper_letters(work), trim_tags(work)
    leaves: list[Leaf] = []
    shelf: list[_Block] = []
    for id, paper in order.items():
        for trim in (trim for trim in work.plan.trims if trim.paper == id):
            size = work.words.size_at_least(trim.width_mm, trim.height_mm, choices.unit)
            drawing = _trim_picture(trim, tags[trim.id], choices)
            captioned = _captioned(drawing, f"{paper.name}, {size}")
            if captioned.width_mm > free.width or captioned.height_mm > free.height:
                title = work.words.text("print.pieces-of-trim", trim=tags[trim.id], paper=paper.name)
                note = f"{size}. {_note(work, choices)}"
                leaves += tiled(drawing, title, note, choices.paper_size, work.words)
            else:
                shelf.append(_Block(letters[id], paper.name, captioned))
    return leaves + _shelved(shelf, free, _note(work, choices), work.words)


def _note(work: Work, choices: SheetChoices) -> str:
    return work.words.text("print.on-the-back" if choices.mirrored else "print.on-the-face")


def _shelved(blocks: Sequence[_Block], free: TypeArea, note: str, words: Language) -> list[Leaf]:
    """Return blocks in rows from the top left, a new page where the next one has no room."""
    leaves: list[Leaf] = []
    marks: list[Mark] = []
    papers: dict[str, str] = {}
    x = y = row = 0.0

    def turn_page() -> None:
        first, *others = papers
        shown = (
            words.text("print.range", first=first, last=others[-1]) if others else f"{first}  {papers[first]}"
        )
        leaves.append(Leaf(words.text("print.pieces-of", papers=shown), note, tuple(marks)))

    for block in blocks:
        picture = block.picture
        if x + picture.width_mm > free.width:
            x, y, row = 0.0, y + row + _GAP_MM, 0.0
        if y + picture.height_mm > free.height:
            turn_page()
            marks, papers, x, y, row = [], {}, 0.0, 0.0, 0.0
        marks += [moved_mark(mark, free.x + x, free.y + y) for mark in picture.marks]
        papers[block.letter] = block.paper
        x, row = x + picture.width_mm + _GAP_MM, max(row, picture.height_mm)
    if papers:
        turn_page()
    return leaves


def _trim_picture(trim: Trim, tag: str, choices: SheetChoices) -> Picture:
    """Return a trim upright with its pieces, numbered within the trim."""
    side = as_cut(trim.width_mm, choices)
    outlines = [
        shapely.transform(placed.outline, lambda points: moved(points, side)) for placed in trim.pieces
    ]
    rings = tuple(shapely.get_coordinates(outline.exterior) for outline in outlines)
    texts = [str(placed.number) for placed in trim.pieces]
    rim = shapely.box(0, 0, trim.width_mm, trim.height_mm)
    walls = [*outlines, difference(shapely.buffer(rim, _AROUND_MM), rim)]
    marks = (
        Stroke((moved(edge_of(trim), side),), HAIRLINE, 0.15, 1.5),
        Stroke(rings, INK, _CUT_MM),
        *_written(placed_numbers(outlines, texts, _LEAST_CAP_MM, _LARGEST_CAP_MM, walls)),
    )
    return Picture(tag, trim.width_mm, trim.height_mm, marks)


def _captioned(trim: Picture, caption: str) -> Picture:
    """Return the picture of a trim below its tag and a caption."""
    middle, indent = _CAPTION_MM / 2 - 0.6, 9.0
    seen = shortened(caption, TEXT, max(trim.width_mm - indent, 12))
    marks = (
        Words(trim.title, 0, middle, HEADING, INK, bold=True),
        Words(seen, indent, middle, TEXT, PALE_INK),
        *(moved_mark(mark, 0, _CAPTION_MM) for mark in trim.marks),
    )
    return Picture(trim.title, trim.width_mm, trim.height_mm + _CAPTION_MM, marks)
