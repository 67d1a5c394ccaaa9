"""Which sheets to take, and how."""

from dataclasses import dataclass
from enum import StrEnum

from peekpaper.sheets.paper_sizes import PaperSize


class SheetKind(StrEnum):
    """The kinds of sheets, in the order in which they are made."""

    CUT = "cut"
    DXF = "dxf"
    TRIM_LIST = "trim-list"
    GLUE_UP = "glue-up"
    TEMPLATES = "templates"
    PRINTED_TRIMS = "printed-trims"
    PRINTED_PIECES = "printed-pieces"
    ARCHIVE = "archive"


PRINTED_KINDS = (SheetKind.PRINTED_TRIMS, SheetKind.PRINTED_PIECES)
"""The kinds that show papers' own patterns; without a printed paper in use there is nothing of them."""


class DxfRelease(StrEnum):
    """Releases of the drawing exchange format: one that everything reads, and a current one."""

    R12 = "R12"
    R2018 = "R2018"


@dataclass(frozen=True, slots=True)
class SheetChoices:
    """What the person wants of the sheets.

    `kinds` are made, others not; ARCHIVE packs the others as one more file. `unit` ("in" or "mm") is that
    of the cut files and of the lists. `per_paper` adds a cut file for each paper of each mat. `mirrored`
    turns cut files over, for papers that lie face down. `guides` adds the layer of trim outlines and piece
    numbers, `size_check` a square of known size. `paper_size` is the printer's. `link` is the project's
    link, drawn as a QR code in the glue-up guide where it fits one.
    """

    kinds: tuple[SheetKind, ...] = tuple(SheetKind)
    unit: str = "in"
    per_paper: bool = False
    mirrored: bool = False
    guides: bool = False
    size_check: bool = False
    dxf_releases: tuple[DxfRelease, ...] = (DxfRelease.R12, DxfRelease.R2018)
    paper_size: PaperSize = PaperSize.LETTER
    link: str | None = None
