"""The trim list on paper: what to cut, what to buy, and the mats to copy by eye."""

from peekpaper.lengths import format_length
from peekpaper.plan.plan import Mat
from peekpaper.sheets import mat_view
from peekpaper.sheets.choices import SheetChoices
from peekpaper.sheets.colours import INK
from peekpaper.sheets.page import HEADING, LEADING, Leaf, pages, room
from peekpaper.sheets.picture import Anchor, Mark, Picture, Words, moved_mark, placed
from peekpaper.sheets.shopping import shopping_rows
from peekpaper.sheets.table import Column, Row, tables
from peekpaper.sheets.trim_list import trim_rows
from peekpaper.sheets.work import Work

_TRIM_COLUMNS = (
    Column("Trim and paper", 5.2),
    Column("Cut", 3.6),
    Column("From", 3.2),
    Column("Mat", 0.9, Anchor.END),
    Column("From left", 2.0, Anchor.END),
    Column("From top", 2.0, Anchor.END),
    Column("Pieces", 5.6),
)
_SHOPPING_COLUMNS = (
    Column("Paper", 5),
    Column("Sheet size", 3),
    Column("Needed", 1.5, Anchor.END),
    Column("At hand", 1.7, Anchor.END),
    Column("To buy", 1.5, Anchor.END),
    Column("Cost", 1.5, Anchor.END),
)


def trim_pages(work: Work, choices: SheetChoices) -> list[Picture]:
    """Return the pages of the trim list: the trims, what to buy, then each mat as large as fits a page."""
    leaves = [*_list_leaves(work, choices), *(_mat_leaf(work, mat, choices) for mat in work.plan.mats)]
    return pages(f"{work.project.name}, trim list", leaves, choices.paper_size)


def _list_leaves(work: Work, choices: SheetChoices) -> list[Leaf]:
    free = room(choices.paper_size)
    trims = tables(_TRIM_COLUMNS, _trim_table(work, choices), free.width, (free.height,))
    heading = HEADING * LEADING * 2
    left = free.height - trims[-1].height - 10 - heading
    shopping = tables(_SHOPPING_COLUMNS, _shopping_table(work, choices), free.width, (free.height - heading,))
    note = "Sizes are as cut from the upright sheet. Places are from the upper left corner of the mat."
    contents = [[moved_mark(mark, free.x, free.y) for mark in part.marks] for part in trims]
    for index, part in enumerate(shopping):
        fits = index == 0 and part.height <= left
        y = free.y + trims[-1].height + 10 if fits else free.y
        if not fits:
            contents.append([])
        if index == 0:
            contents[-1].append(Words("What to buy", free.x, y + HEADING, HEADING, INK, bold=True))
            y += heading
        contents[-1] += [moved_mark(mark, free.x, y) for mark in part.marks]
    return [Leaf("Trim list", note, tuple(marks)) for marks in contents]


def _trim_table(work: Work, choices: SheetChoices) -> list[Row]:
    return [
        Row(
            (
                f"{row.tag}  {row.paper}",
                row.cut_size,
                row.source,
                str(row.mat),
                row.from_left,
                row.from_top,
                ", ".join(map(str, row.pieces)),
            ),
            row.colour,
        )
        for row in trim_rows(work, choices.unit)
    ]


def _shopping_table(work: Work, choices: SheetChoices) -> list[Row]:
    rows = shopping_rows(work, choices.unit)
    lines = [
        Row(
            (
                f"{row.letter}  {row.paper}",
                row.sheet_size,
                str(row.needed),
                "not counted" if row.at_hand is None else str(row.at_hand),
                str(row.to_buy) if row.at_hand is not None or not row.to_buy else f"up to {row.to_buy}",
                "" if row.cost is None else f"{row.cost:.2f}",
            ),
            row.colour,
        )
        for row in rows
    ]
    costs = [row.cost for row in rows if row.cost is not None]
    return [*lines, Row(("", "", "", "", "Total", f"{sum(costs):.2f}"))] if costs else lines


def _mat_leaf(work: Work, mat: Mat, choices: SheetChoices) -> Leaf:
    """Return a mat as large as fits the page, sideways where it then gets larger."""
    upright, lying = (_scale(mat, choices, sideways) for sideways in (False, True))
    scale, sideways = max(upright, lying), lying > upright
    free = room(choices.paper_size, sideways)
    picture = mat_view.mat_view(work, mat, choices.unit, scale)
    x = free.x + (free.width - picture.width_mm) / 2
    width, height = (format_length(side, choices.unit) for side in (mat.width_mm, mat.height_mm))
    grid = "inches" if choices.unit == "in" else "centimetres"
    size = f"{width.removesuffix(f' {choices.unit}')} x {height}"
    note = f"{size}, drawn at {scale:.0%} of true size. Its lines are numbered in {grid} from the upper left."
    marks: tuple[Mark, ...] = placed(picture, x, free.y, 1.0)
    return Leaf(f"Mat {mat.number}", note, marks, sideways)


def _scale(mat: Mat, choices: SheetChoices, sideways: bool) -> float:
    free = room(choices.paper_size, sideways)
    rim = 2 * mat_view.RIM_MM
    return min(1.0, (free.width - rim) / mat.width_mm, (free.height - rim) / mat.height_mm)
