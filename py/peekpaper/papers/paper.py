"""Papers, scraps and who gets which: what the person has on the shelf, and what goes where."""

import math
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated

from peekpaper.bounds import Amount, ByNumber, Many, Millimetres, Name, Number, Some, Tag, Whole, Within

PRINT_BLEED_MM = 2.0
"""How far a pattern is printed past a trim's edges (bleed), so that a cut a little off shows no white."""
PRINT_RIM_MM = 6.0
"""What cut marks and numbers take up around printed trims."""
PRINT_GAP_MM = 8.0
"""How far printed trims lie apart: bleed and cut marks of both."""
PRINT_FOOT_MM = 14.0
"""What the measured bar at the foot of a printed page takes up."""


class Direction(StrEnum):
    """Which turns keep a pattern the right way up: any; none (one-way); half a turn (two-way)."""

    ANY = "any"
    ONE_WAY = "one-way"
    TWO_WAY = "two-way"


@dataclass(frozen=True, slots=True)
class Paper:
    """A patterned or plain stock; lengths in mm.

    `colour` (`#rrggbb`) is its plain colour for the flat view. `pattern` names a drawn pattern of the
    page ("dots", "stripes", ...) or is None; `picture` is the key of a picture kept on the device, with
    `picture_width_mm` its real width, and `original` that of the file it was made of, at full resolution.
    `sheets` is how many there are (None: as many as needed). A paper with a `print_margin_mm` is printed at
    home: its sheet is the printer's, of which a rim of that width stays empty. `collection` is what it was
    bought with; `stash` is the id of the paper in the stash that it came from.
    """

    id: Tag
    name: Name
    colour: Tag
    pattern: Tag | None = None
    picture: Tag | None = None
    picture_width_mm: Millimetres | None = None
    sheet_width_mm: Millimetres = 304.8
    sheet_height_mm: Millimetres = 304.8
    sheets: Whole | None = None
    direction: Direction = Direction.ANY
    both_sides: bool = False
    price: Amount | None = None
    original: Tag | None = None
    print_margin_mm: Annotated[float, Within(0, 100)] | None = None
    collection: Name = ""
    stash: Tag | None = None

    @property
    def is_printed(self) -> bool:
        """Whether the paper comes from the person's own printer."""
        return self.print_margin_mm is not None

    @property
    def room_mm(self) -> tuple[float, float]:
        """Width and height that trims can be cut from: the sheet, or what a printed page has room for."""
        if self.print_margin_mm is None:
            return self.sheet_width_mm, self.sheet_height_mm
        lost = 2 * (self.print_margin_mm + PRINT_RIM_MM)
        return self.sheet_width_mm - lost, self.sheet_height_mm - lost - PRINT_FOOT_MM

    @property
    def turns_on_sheet(self) -> bool:
        """Whether a trim may lie a quarter turn on the sheet: a printed pattern turns along with it."""
        return self.is_printed or self.direction is Direction.ANY


@dataclass(frozen=True, slots=True)
class Scrap:
    """What is left over of a paper, upright, in mm.

    It is a rectangle, or has an `outline` of its own: points (x, y) in the box around it, of that size.
    """

    id: Tag
    paper: Tag
    width_mm: Millimetres
    height_mm: Millimetres
    outline: Some[tuple[Millimetres, Millimetres]] = ()

    @property
    def area_mm2(self) -> float:
        """Its area; that within its outline by the shoelace formula."""
        if not self.outline:
            return self.width_mm * self.height_mm
        pairs = zip(self.outline, (*self.outline[1:], self.outline[0]), strict=True)
        return abs(math.fsum(x * v - u * y for (x, y), (u, v) in pairs)) / 2


@dataclass(frozen=True, slots=True)
class Shelf:
    """The papers and scraps at hand, in the person's order."""

    papers: Some[Paper] = ()
    scraps: Many[Scrap] = ()


@dataclass(frozen=True, slots=True)
class Colourway:
    """One full assignment of papers to openings.

    `papers` maps an opening's number to a paper's id; an opening that is missing stays open. `locked`
    are the openings that a suggestion must not change.
    """

    id: Tag
    name: Name
    papers: ByNumber[Tag] = field(default_factory=dict)
    locked: Many[Number] = ()
