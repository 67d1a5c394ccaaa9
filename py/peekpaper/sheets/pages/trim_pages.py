"""The trim list on paper: what to cut, what to buy, and the mats to copy by eye."""

from collections.abc import Sequence

from peekpaper.message import message
from peekpaper.plan.plan import Mat
from peekpaper.sheets.choices import SheetChoices
from peekpaper.sheets.lists.shopping import shopping_rows
from peekpaper.sheets.lists.trim_list import trim_rows
from peekpaper.sheets.pages.cautions import FOR_CUTTING
from peekpaper.sheets.pages.page import HEADING, LEADING, Leaf, TypeArea, pages, paragraph, type_area
from peekpaper.sheets.pages.table import Column, Row, Table, tables
from peekpaper.sheets.picture import mat_view
from peekpaper.sheets.picture.colours import INK
from peekpaper.sheets.picture.picture import Anchor, Mark, Picture, Words, moved_mark, placed
from peekpaper.sheets.work import Work
from peekpaper.words.words import Language

_TRIM_COLUMNS = (
    ("print.trim-and-paper", 5.2, Anchor.START),
    ("print.cut", 3.2, Anchor.START),
    ("print.from-left-top", 3.9, Anchor.START),
    ("print.mat", 0.9, Anchor.END),
    ("print.left", 1.8, Anchor.END),
    ("print.top", 1.8, Anchor.END),
    ("print.pieces", 5.6, Anchor.START),
)
"""The columns of the trim list: heading, share of the width, and how they stand."""
_SHOPPING_COLUMNS = (
    ("print.paper", 5.0, Anchor.START),
    ("print.sheet-size", 3.0, Anchor.START),
    ("print.needed", 1.5, Anchor.END),
    ("print.at-hand", 1.7, Anchor.END),
    ("print.to-buy", 1.5, Anchor.END),
)
"""Those of what to buy."""
_COST_COLUMN = ("print.cost", 1.5, Anchor.END)
"""One more of it, where papers have prices."""
_BELOW_MM = 10.0
"""Between the trim list and what follows on the same page."""


def trim_pages(work: Work, choices: SheetChoices) -> list[Picture]:
    """Return the pages of the trim list: the trims, what to buy, then each mat as large as fits a page."""
    leaves = [*_list_leaves(work, choices), *(_mat_leaf(work, mat, choices) for mat in work.plan.mats)]
    title = work.words.text("print.document-trim-list", name=work.project.name)
    return pages(title, leaves, choices.paper_size, work.words)


def _list_leaves(work: Work, choices: SheetChoices) -> list[Leaf]:
    """Return the trims and what to buy: below them where it fits the page, else on pages of its own."""
    free, say = type_area(choices.paper_size), work.words.text
    columns, rows = _shopping_table(work, choices)
    heading = HEADING * LEADING * 2
    said, below = _introduction(work, choices, free)
    heights = (free.height - below, free.height)
    trims = tables(_columns(_TRIM_COLUMNS, work.words), _trim_table(work, choices), free.width, heights)
    shopping = tables(columns, rows, free.width, (free.height,))
    name, note = say("print.trim-list"), say("print.trim-list-note")
    first, *others = trims
    leaves = [
        Leaf(name, note, (*said, *_table_marks(first, free, below))),
        *(Leaf(name, note, _table_marks(part, free, 0)) for part in others),
    ]
    y = trims[-1].height + _BELOW_MM + (0 if others else below)
    if len(shopping) == 1 and y + heading + shopping[0].height <= free.height:
        title = Words(say("print.what-to-buy"), free.x, free.y + y + HEADING, HEADING, INK, bold=True)
        marks = (*leaves[-1].marks, title, *_table_marks(shopping[0], free, y + heading))
        return [*leaves[:-1], Leaf(name, note, marks)]
    note = say("print.what-to-buy-note")
    return leaves + [Leaf(say("print.what-to-buy"), note, _table_marks(part, free, 0)) for part in shopping]


def _introduction(work: Work, choices: SheetChoices, free: TypeArea) -> tuple[list[Mark], float]:
    """Return which side goes up and the cautions, and the height that they take."""
    marks: list[Mark] = []
    y = free.y
    for key in ("print.face-down" if choices.mirrored else "print.face-up", *FOR_CUTTING):
        lines, y = paragraph(work.words.text(key), free.x, y, free.width)
        marks += lines
    return marks, y + _BELOW_MM / 2 - free.y


def _table_marks(table: Table, free: TypeArea, y: float) -> tuple[Mark, ...]:
    return tuple(moved_mark(mark, free.x, free.y + y) for mark in table.marks)


def _trim_table(work: Work, choices: SheetChoices) -> list[Row]:
    return [
        Row(
            (
                f"{row.tag}  {row.paper}",
                row.cut_size,
                f"{row.source}: {row.sheet_left}, {row.sheet_top}" if row.sheet_left else row.source,
                str(row.mat or ""),
                row.from_left,
                row.from_top,
                work.words.runs(row.pieces),
            ),
            row.fill,
        )
        for row in trim_rows(work, choices)
    ]


def _shopping_table(work: Work, choices: SheetChoices) -> tuple[tuple[Column, ...], list[Row]]:
    """Return columns and rows; costs are left out where no price is known."""
    rows = shopping_rows(work, choices.unit)
    words = work.words
    costs = [row.cost for row in rows if row.cost is not None]
    lines = [
        Row(
            (
                f"{row.letter}  {row.paper}",
                row.sheet_size,
                str(row.needed),
                words.text("print.not-counted") if row.at_hand is None else str(row.at_hand),
                str(row.to_buy)
                if row.at_hand is not None or not row.to_buy
                else words.text("print.up-to", count=row.to_buy),
                *(("" if row.cost is None else words.money(row.cost),) if costs else ()),
            ),
            row.fill,
        )
        for row in rows
    ]
    if not costs:
        return _columns(_SHOPPING_COLUMNS, words), lines
    total = Row(("", "", "", "", words.text("print.total"), words.money(sum(costs))))
    return _columns((*_SHOPPING_COLUMNS, _COST_COLUMN), words), [*lines, total]


def _columns(columns: Sequence[tuple[str, float, Anchor]], words: Language) -> tuple[Column, ...]:
    """Return columns with their headings in words, of which the keys are given."""
    return tuple(Column(words.text(key), share, anchor) for key, share, anchor in columns)


def _mat_leaf(work: Work, mat: Mat, choices: SheetChoices) -> Leaf:
    """Return a mat as large as fits the page, sideways where it then gets larger."""
    upright, lying = (_scale(mat, choices, sideways) for sideways in (False, True))
    scale, sideways = max(upright, lying), lying > upright
    free = type_area(choices.paper_size, sideways)
    picture = mat_view.mat_view(work, mat, choices, scale)
    x = free.x + (free.width - picture.width_mm) / 2
    words = work.words
    note = words.text(
        "print.mat-note",
        size=words.size(mat.width_mm, mat.height_mm, choices.unit),
        percent=round(100 * scale),
        face=message("print.pattern-down" if choices.mirrored else "print.pattern-up"),
        grid=message("print.in-inches" if choices.unit == "in" else "print.in-centimetres"),
    )
    marks: tuple[Mark, ...] = placed(picture, x, free.y, 1.0)
    return Leaf(words.text("print.mat-number", number=mat.number), note, marks, sideways)


def _scale(mat: Mat, choices: SheetChoices, sideways: bool) -> float:
    free = type_area(choices.paper_size, sideways)
    rim = 2 * mat_view.RIM_MM
    return min(1.0, (free.width - rim) / mat.width_mm, (free.height - rim) / mat.height_mm)
