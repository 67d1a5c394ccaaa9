"""Sheet sizes of printers, in mm.

A sizes are those of ISO 216:2007, table 1 (trimmed sizes). Letter is size A of ANSI/ASME Y14.1 (8.5 x 11 in),
Tabloid its size B (11 x 17 in).
"""

from enum import StrEnum

from peekpaper.lengths import MM_PER_INCH


class PaperSize(StrEnum):
    """A size that printers take, by the name that people know."""

    A4 = "A4"
    A3 = "A3"
    LETTER = "Letter"
    TABLOID = "Tabloid"

    @property
    def width_mm(self) -> float:
        """The short side."""
        return _SIDES_MM[self][0]

    @property
    def height_mm(self) -> float:
        """The long side."""
        return _SIDES_MM[self][1]


_SIDES_MM = {
    PaperSize.A4: (210.0, 297.0),
    PaperSize.A3: (297.0, 420.0),
    PaperSize.LETTER: (8.5 * MM_PER_INCH, 11 * MM_PER_INCH),
    PaperSize.TABLOID: (11 * MM_PER_INCH, 17 * MM_PER_INCH),
}
"""Short and long sides by ISO 216 and ANSI/ASME Y14.1 (A and B)."""
