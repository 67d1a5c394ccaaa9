"""The trim list on paper: what to cut, what to buy, and the mats to copy by eye."""

from peekpaper.lengths import format_size
from peekpaper.papers.reasons import numbers_in_words
from peekpaper.plan.plan import Mat
from peekpaper.sheets.choices import SheetChoices
from peekpaper.sheets.lists.shopping import shopping_rows
from peekpaper.sheets.lists.trim_list import trim_rows
from peekpaper.sheets.pages.cautions import FOR_CUTTING
from peekpaper.sheets.pages.page import HEADING, LEADING, Leaf, Room, pages, paragraph, room
from peekpaper.sheets.pages.table import Column, Row, Table, tables
from peekpaper.sheets.picture import mat_view
from peekpaper.sheets.picture.colours import INK
from peekpaper.sheets.picture.picture import Anchor, Mark, Picture, Words, moved_mark, placed
from peekpaper.sheets.work import Work

_TRIM_COLUMNS = (
    Column("Trim and paper", 5.2),
    Column("Cut", 3.2),
    Column("From: left, top", 3.9),
    Column("Mat", 0.9, Anchor.END),
    Column("Left", 1.8, Anchor.END),
    Column("Top", 1.8, Anchor.END),
    Column("Pieces", 5.6),
)
_SHOPPING_COLUMNS = (
    Column("Paper", 5),
    Column("Sheet size", 3),
    Column("Needed", 1.5, Anchor.END),
    Column("At hand", 1.7, Anchor.END),
    Column("To buy", 1.5, Anchor.END),
)
_BELOW_MM = 10.0
_FACE_UP = "Lay each trim on the mat pattern side up, by the grid lines."
_FACE_DOWN = "The cut files are mirrored: lay each trim on the mat pattern side down, where it is told here."


def trim_pages(work: Work, choices: SheetChoices) -> list[Picture]:
    """Return the pages of the trim list: the trims, what to buy, then each mat as large as fits a page."""
    leaves = [*_list_leaves(work, choices), *(_mat_leaf(work, mat, choices) for mat in work.plan.mats)]
    return pages(f"{work.project.name}, trim list", leaves, choices.paper_size)


def _list_leaves(work: Work, choices: SheetChoices) -> list[Leaf]:
    """Return the trims and what to buy: below them where it fits the page, else on pages of its own."""
    free = room(choices.paper_size)
    columns, rows = _shopping_table(work, choices)
    heading = HEADING * LEADING * 2
    said, below = _introduction(choices, free)
    heights = (free.height - below, free.height)
    trims = tables(_TRIM_COLUMNS, _trim_table(work, choices), free.width, heights)
    shopping = tables(columns, rows, free.width, (free.height,))
    note = "Sizes are as cut from the upright sheet. Places count from the upper left corner of sheet or mat."
    first, *others = trims
    leaves = [
        Leaf("Trim list", note, (*said, *_table_marks(first, free, below))),
        *(Leaf("Trim list", note, _table_marks(part, free, 0)) for part in others),
    ]
    y = trims[-1].height + _BELOW_MM + (0 if others else below)
    if len(shopping) == 1 and y + heading + shopping[0].height <= free.height:
        title = Words("What to buy", free.x, free.y + y + HEADING, HEADING, INK, bold=True)
        marks = (*leaves[-1].marks, title, *_table_marks(shopping[0], free, y + heading))
        return [*leaves[:-1], Leaf("Trim list", note, marks)]
    note = "Sheets that the trims need, less the sheets at hand; scraps are used first."
    return leaves + [Leaf("What to buy", note, _table_marks(part, free, 0)) for part in shopping]


def _introduction(choices: SheetChoices, free: Room) -> tuple[list[Mark], float]:
    """Return which side goes up and the cautions, and the height that they take."""
    marks: list[Mark] = []
    y = free.y
    for text in (_FACE_DOWN if choices.mirrored else _FACE_UP, *FOR_CUTTING):
        lines, y = paragraph(text, free.x, y, free.width)
        marks += lines
    return marks, y + _BELOW_MM / 2 - free.y


def _table_marks(table: Table, free: Room, y: float) -> tuple[Mark, ...]:
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
                numbers_in_words(row.pieces),
            ),
            row.colour,
        )
        for row in trim_rows(work, choices)
    ]


def _shopping_table(work: Work, choices: SheetChoices) -> tuple[tuple[Column, ...], list[Row]]:
    """Return columns and rows; costs are left out where no price is known."""
    rows = shopping_rows(work, choices.unit)
    costs = [row.cost for row in rows if row.cost is not None]
    lines = [
        Row(
            (
                f"{row.letter}  {row.paper}",
                row.sheet_size,
                str(row.needed),
                "not counted" if row.at_hand is None else str(row.at_hand),
                str(row.to_buy) if row.at_hand is not None or not row.to_buy else f"up to {row.to_buy}",
                *(("" if row.cost is None else f"{row.cost:.2f}",) if costs else ()),
            ),
            row.colour,
        )
        for row in rows
    ]
    if not costs:
        return _SHOPPING_COLUMNS, lines
    total = Row(("", "", "", "", "Total", f"{sum(costs):.2f}"))
    return (*_SHOPPING_COLUMNS, Column("Cost", 1.5, Anchor.END)), [*lines, total]


def _mat_leaf(work: Work, mat: Mat, choices: SheetChoices) -> Leaf:
    """Return a mat as large as fits the page, sideways where it then gets larger."""
    upright, lying = (_scale(mat, choices, sideways) for sideways in (False, True))
    scale, sideways = max(upright, lying), lying > upright
    free = room(choices.paper_size, sideways)
    picture = mat_view.mat_view(work, mat, choices, scale)
    x = free.x + (free.width - picture.width_mm) / 2
    size = format_size(mat.width_mm, mat.height_mm, choices.unit)
    grid = "inches" if choices.unit == "in" else "centimetres"
    face = "down" if choices.mirrored else "up"
    note = f"{size}, at {scale:.0%} of true size, pattern side {face}. Lines are numbered in {grid}."
    marks: tuple[Mark, ...] = placed(picture, x, free.y, 1.0)
    return Leaf(f"Mat {mat.number}", note, marks, sideways)


def _scale(mat: Mat, choices: SheetChoices, sideways: bool) -> float:
    free = room(choices.paper_size, sideways)
    rim = 2 * mat_view.RIM_MM
    return min(1.0, (free.width - rim) / mat.width_mm, (free.height - rim) / mat.height_mm)
