"""The trims to cut, as rows to read and as CSV."""

import csv
import io
from dataclasses import dataclass

from peekpaper.plan.plan import Trim
from peekpaper.sheets.choices import SheetChoices
from peekpaper.sheets.paper_names import paper_letters, trim_tags, used_papers
from peekpaper.sheets.picture.fills import Fill, fills
from peekpaper.sheets.places import as_cut, corner_on_mat, size_on_mat, size_on_sheet
from peekpaper.sheets.plain_text import inert
from peekpaper.sheets.work import Work

_ROUNDING_MM = 1e-6
"""What adding up lengths may round; a sheet is not too small for it."""
_HEAD = (
    "print.trim", "print.paper", "print.cut", "print.from", "print.on-it-from-left", "print.on-it-from-top",
    "print.mat", "print.size-on-mat", "print.from-left", "print.from-top", "print.pieces",
)  # fmt: skip
"""The headings of the list as CSV: keys of their words."""


@dataclass(frozen=True, slots=True)
class TrimRow:
    """One trim in words. `size` is as it lies on the mat, `cut_size` as it is cut from the upright sheet.

    `source` is the sheet, counted from 1, or the scrap that it comes from; `sheet_left` and `sheet_top` tell
    where on that sheet its upper left corner is, empty for a scrap and a printed trim. The whole-back, on no
    mat, has no `mat`, no places and no pieces.
    """

    tag: str
    paper: str
    fill: Fill
    cut_size: str
    source: str
    sheet_left: str
    sheet_top: str
    mat: int | None
    size: str
    from_left: str
    from_top: str
    pieces: tuple[int, ...]


def trim_rows(work: Work, choices: SheetChoices) -> tuple[TrimRow, ...]:
    """Return a row for each trim, paper by paper, with its place on the mat as the mat is cut.

    The whole-back comes last, where there is one.
    """
    unit, words = choices.unit, work.words
    sides = {mat.number: as_cut(mat.width_mm, choices) for mat in work.plan.mats}
    papers = {paper.id: paper for paper in used_papers(work)}
    shown = fills(work)
    scraps = {scrap.id: scrap for scrap in work.project.shelf.scraps}
    tags = trim_tags(work)

    def source(trim: Trim) -> str:
        scrap = scraps.get(trim.scrap) if trim.scrap else None
        if scrap:
            key = "print.from-shaped-scrap" if scrap.outline else "print.from-scrap"
            return words.text(key, size=words.size(scrap.width_mm, scrap.height_mm, unit))
        if trim.printed_at:
            return words.text("print.from-printed-page", number=trim.printed_at.sheet)
        if trim.cut_from:
            return words.text("print.from-sheet", number=trim.cut_from.sheet)
        return words.text("print.from-any-sheet")

    def row(trim: Trim) -> TrimRow:
        x_mm, y_mm = corner_on_mat(trim, sides[trim.mat])
        return TrimRow(
            tag=tags[trim.id],
            paper=papers[trim.paper].name,
            fill=shown[trim.paper],
            cut_size=words.size_at_least(*size_on_sheet(trim), unit),
            source=source(trim),
            sheet_left=words.length(trim.cut_from.x_mm, unit) if trim.cut_from else "",
            sheet_top=words.length(trim.cut_from.y_mm, unit) if trim.cut_from else "",
            mat=trim.mat,
            size=words.size_at_least(*size_on_mat(trim), unit),
            from_left=words.length(x_mm, unit),
            from_top=words.length(y_mm, unit),
            pieces=tuple(placed.number for placed in trim.pieces),
        )

    order = {paper: index for index, paper in enumerate(paper_letters(work))}
    rows = [row(trim) for trim in sorted(work.plan.trims, key=lambda trim: order[trim.paper])]
    return (*rows, *_whole_back_rows(work, unit))


def _whole_back_rows(work: Work, unit: str) -> list[TrimRow]:
    """Return the row of the whole-back, or none where there is no whole-back."""
    if work.whole_back is None:
        return []
    paper = next(paper for paper in used_papers(work) if paper.id == work.whole_back.paper)
    left, top, right, bottom = work.whole_back.area.bounds
    width, height = right - left, bottom - top
    sides = zip(sorted((width, height)), sorted(paper.room_mm), strict=True)
    fits = all(needed <= at_hand + _ROUNDING_MM for needed, at_hand in sides)
    return [
        TrimRow(
            tag=work.words.text("print.whole-back"),
            paper=paper.name,
            fill=fills(work)[paper.id],
            cut_size=work.words.size_at_least(width, height, unit),
            source=work.words.text("print.own-sheet" if fits else "print.too-large-for-sheet"),
            sheet_left="",
            sheet_top="",
            mat=None,
            size="",
            from_left="",
            from_top="",
            pieces=(),
        )
    ]


def trims_csv(work: Work, choices: SheetChoices) -> bytes:
    """Return the trims as CSV (RFC 4180) in UTF-8 with a byte order mark, which spreadsheets ask for."""
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(work.words.text(key) for key in _HEAD)
    for row in trim_rows(work, choices):
        pieces = " ".join(map(str, row.pieces))
        mat = row.mat or ""
        cells = (row.tag, row.paper, row.cut_size, row.source, row.sheet_left, row.sheet_top, mat)
        writer.writerow([*map(inert, cells), row.size, row.from_left, row.from_top, pieces])
    return text.getvalue().encode("utf-8-sig", "replace")
