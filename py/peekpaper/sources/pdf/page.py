"""The bytes of a PDF file to one of its pages."""

import io
from typing import Any

from peekpaper.lengths import MM_PER_INCH
from peekpaper.refusal import Refusal
from peekpaper.sources.pdf.content import Painter
from peekpaper.sources.vector import VectorPage

MOST_BYTES = 32 * 1024 * 1024
MOST_PAGES = 1000
_POINTS_PER_INCH = 72.0
"""Units of user space in an inch (ISO 32000-1, 8.3.2.3)."""
_LONGEST_PT = 1e7


def count_pages(data: bytes) -> int:
    """Return how many pages a PDF file has. Raises Refusal where it is locked, broken or too large."""
    try:
        return min(MOST_PAGES, len(_opened(data).pages))
    except (MemoryError, Refusal):
        raise
    except Exception as error:  # whatever broken objects lead the library to
        raise _refusal(error) from None


def pdf_page(data: bytes, number: int) -> VectorPage:
    """Return what page `number` (from 1) of a PDF file paints, at true size.

    Raises Refusal where the file is locked, broken or too large, has no such page, or the page asks for too
    much or paints nothing.
    """
    try:
        pages = _opened(data).pages
        if not 1 <= number <= len(pages):
            raise Refusal("pdf-no-page", count=len(pages))
        page = _read(pages[number - 1])
    except (MemoryError, Refusal):
        raise
    except Exception as error:
        raise _refusal(error) from None
    if not page.content:
        raise Refusal("pdf-picture" if page.pictures else "pdf-nothing")
    return page


def _opened(data: bytes) -> Any:
    # The library is there only once such a file is brought in.
    from pypdf import PdfReader

    if len(data) > MOST_BYTES:
        raise Refusal("file-too-large", megabytes=MOST_BYTES >> 20)
    reader = PdfReader(io.BytesIO(data), strict=False)
    if reader.is_encrypted and not reader.decrypt(""):
        raise Refusal("pdf-locked")
    return reader


def _refusal(error: Exception) -> Refusal:
    """Return what is told of an error: for AES the library wants another one, which is not here."""
    from pypdf.errors import DependencyError

    return Refusal("pdf-sealed" if isinstance(error, DependencyError) else "pdf-broken")


def _read(page: Any) -> VectorPage:
    left, bottom, right, top = sorted_box([float(side) for side in page.cropbox])
    width, height = right - left, top - bottom
    unit = float(page.get("/UserUnit", 1.0))
    if not (0 < width < _LONGEST_PT and 0 < height < _LONGEST_PT and 0 < unit < _LONGEST_PT):
        raise Refusal("pdf-broken")
    turns = round(float(page.rotation or 0) / 90) % 4
    # y down, and turned clockwise as the page asks to be shown.
    to_page = (
        (1.0, 0.0, 0.0, -1.0, -left, top),
        (0.0, 1.0, 1.0, 0.0, -bottom, -left),
        (-1.0, 0.0, 0.0, 1.0, right, -bottom),
        (0.0, -1.0, -1.0, 0.0, top, right),
    )[turns]
    if turns % 2:
        width, height = height, width
    painter = Painter(page, to_page, (0.0, 0.0, width, height))
    painter.paint()
    return VectorPage(
        (0.0, 0.0, width, height),
        MM_PER_INCH / _POINTS_PER_INCH * unit,
        _POINTS_PER_INCH / unit,
        tuple(painter.content),
        tuple(painter.clips),
        painter.pictures,
    )


def sorted_box(sides: list[float]) -> tuple[float, float, float, float]:
    """Return a rectangle of two opposite corners as left, bottom, right and top (ISO 32000-1, 7.9.5)."""
    x1, y1, x2, y2 = sides
    return min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)
