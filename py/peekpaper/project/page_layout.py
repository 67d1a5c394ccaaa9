"""The finished piece on its page: the sizes that pages come in, and a layout to start from.

A4, A5 and A6 are those of ISO 216:2007; 8.5 x 11 in is size A of ANSI/ASME Y14.1. Scrapbook pages of 12 x 12,
8 x 8 and 6 x 6 in and cards of 5 x 7, 4.25 x 5.5 and 5 x 5 in are common practice, no published source.
"""

from dataclasses import dataclass

from peekpaper.lengths import MM_PER_INCH
from peekpaper.project.project import Block, PageLayout

_TITLE_MM = 25.4
_AIR_MM = 6.35


@dataclass(frozen=True, slots=True)
class PageSize:
    """A size that pages and cards come in, upright, in mm."""

    name: str
    width_mm: float
    height_mm: float


def _inches(width: float, height: float, kind: str) -> PageSize:
    width_mm, height_mm = round(width * MM_PER_INCH, 6), round(height * MM_PER_INCH, 6)
    return PageSize(f"{kind} {width:g} × {height:g} in", width_mm, height_mm)


PAGE_SIZES = (
    _inches(12, 12, "Page"),
    _inches(8.5, 11, "Page"),
    _inches(8, 8, "Page"),
    _inches(6, 6, "Page"),
    PageSize("Page A4", 210.0, 297.0),
    PageSize("Page A5", 148.0, 210.0),
    _inches(5, 7, "Card"),
    _inches(4.25, 5.5, "Card"),
    _inches(5, 5, "Card"),
    PageSize("Card A6", 105.0, 148.0),
)


def start_layout(piece_width_mm: float, piece_height_mm: float) -> PageLayout:
    """Return the piece in the middle of the first page size that holds it, with a title where there is room.

    A piece larger than every size gets a page of its own size.
    """
    page = next(
        (
            size
            for size in PAGE_SIZES
            if piece_width_mm <= size.width_mm and piece_height_mm <= size.height_mm
        ),
        PageSize("", piece_width_mm, piece_height_mm),
    )
    below = page.height_mm - piece_height_mm
    has_title = below >= _TITLE_MM + 3 * _AIR_MM
    top = (below - _TITLE_MM - _AIR_MM) / 2 if has_title else below / 2
    middle = page.width_mm / 2
    piece = Block("piece", middle, top + piece_height_mm / 2, piece_width_mm, piece_height_mm)
    title_y = top + piece_height_mm + _AIR_MM + _TITLE_MM / 2
    title = Block("title", middle, title_y, min(piece_width_mm, page.width_mm), _TITLE_MM)
    return PageLayout(page.width_mm, page.height_mm, None, (piece, title) if has_title else (piece,))
