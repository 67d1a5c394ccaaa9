"""What to buy again for several projects, as CSV."""

import csv
import io
from collections.abc import Sequence

from peekpaper.papers.reorder import ReorderRow
from peekpaper.sheets.plain_text import inert
from peekpaper.words.words import Language

_HEAD = (
    "print.paper", "print.collection", "print.sheet-size", "print.sheets-needed", "print.at-hand",
    "print.to-buy", "print.cost", "print.for-projects",
)  # fmt: skip
"""The headings of the list: keys of their words."""


def reorder_csv(rows: Sequence[ReorderRow], unit: str, words: Language) -> bytes:
    """Return what to buy again as CSV (RFC 4180) in UTF-8 with a byte order mark."""
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(words.text(key) for key in _HEAD)
    for row in rows:
        paper = row.paper
        size = words.size(paper.sheet_width_mm, paper.sheet_height_mm, unit)
        writer.writerow((
            inert(paper.name),
            inert(paper.collection),
            words.text("print.to-print", size=size) if paper.is_printed else size,
            row.needed,
            "" if row.at_hand is None else row.at_hand,
            row.to_buy,
            "" if row.cost is None else f"{row.cost:.2f}",
            inert(", ".join(row.projects)),
        ))  # fmt: skip
    return text.getvalue().encode("utf-8-sig", "replace")
