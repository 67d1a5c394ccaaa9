"""Sheet sizes of printers, in mm.

A sizes are those of ISO 216:2007, table 1 (trimmed sizes). Letter is size A of ANSI/ASME Y14.1 (8.5 x 11 in),
Tabloid its size B (11 x 17 in).
"""

from enum import Enum

from peekpaper.lengths import MM_PER_INCH


class PaperSize(Enum):
    """A size that a printer takes, upright: its name on screen, width and height in mm."""

    A5 = ("A5", 148.0, 210.0)
    A4 = ("A4", 210.0, 297.0)
    A3 = ("A3", 297.0, 420.0)
    LETTER = ("Letter", 8.5 * MM_PER_INCH, 11 * MM_PER_INCH)
    TABLOID = ("Tabloid", 11 * MM_PER_INCH, 17 * MM_PER_INCH)

    @property
    def label(self) -> str:
        """The name that a person knows it by."""
        return self.value[0]

    @property
    def width_mm(self) -> float:
        """The short side."""
        return self.value[1]

    @property
    def height_mm(self) -> float:
        """The long side."""
        return self.value[2]
