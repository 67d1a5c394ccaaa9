"""What to buy: the sheets that the plan needs, less those at hand."""

import csv
import io
from dataclasses import dataclass

from peekpaper.papers.paper import Paper
from peekpaper.sheets.paper_names import paper_letters, used_papers
from peekpaper.sheets.picture.fills import Fill, fills
from peekpaper.sheets.plain_text import inert
from peekpaper.sheets.work import Work
from peekpaper.words.words import Language

_HEAD = (
    "print.letter", "print.paper", "print.sheet-size", "print.sheets-needed", "print.at-hand", "print.to-buy",
    "print.cost",
)  # fmt: skip
"""The headings of the list as CSV: keys of their words."""


@dataclass(frozen=True, slots=True)
class ShoppingRow:
    """One paper: sheets `needed`, `at_hand` (None: not counted) and `to_buy`, and what those cost.

    Sheets that nobody counted are all to be bought, at most, and none where all was cut. `cost` is None where
    no price is known.
    """

    letter: str
    paper: str
    fill: Fill
    sheet_size: str
    needed: int
    at_hand: int | None
    to_buy: int
    cost: float | None


def shopping_rows(work: Work, unit: str) -> tuple[ShoppingRow, ...]:
    """Return a row for each paper in use, sheet sizes in `unit`."""
    letters = paper_letters(work)
    needed = dict(work.plan.sheets)
    if work.whole_back is not None:
        needed[work.whole_back.paper] = needed.get(work.whole_back.paper, 0) + 1
    is_cut = any(cut.colourway == work.project.colourway for cut in work.project.cuts)
    rows, shown = [], fills(work)
    for paper in used_papers(work):
        count = needed.get(paper.id, 0)
        to_buy = 0 if is_cut else max(0, count - (paper.sheets or 0))
        rows.append(
            ShoppingRow(
                letter=letters[paper.id],
                paper=paper.name,
                fill=shown[paper.id],
                sheet_size=_sheet_size(paper, unit, work.words),
                needed=count,
                at_hand=paper.sheets,
                to_buy=to_buy,
                cost=None if paper.price is None else to_buy * paper.price,
            )
        )
    return tuple(rows)


def _sheet_size(paper: Paper, unit: str, words: Language) -> str:
    size = words.size(paper.sheet_width_mm, paper.sheet_height_mm, unit)
    return words.text("print.to-print", size=size) if paper.is_printed else size


def shopping_csv(work: Work, unit: str) -> bytes:
    """Return what to buy as CSV (RFC 4180) in UTF-8 with a byte order mark."""
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(work.words.text(key) for key in _HEAD)
    for row in shopping_rows(work, unit):
        at_hand = "" if row.at_hand is None else row.at_hand
        cost = "" if row.cost is None else f"{row.cost:.2f}"
        writer.writerow((row.letter, inert(row.paper), row.sheet_size, row.needed, at_hand, row.to_buy, cost))
    return text.getvalue().encode("utf-8-sig", "replace")
