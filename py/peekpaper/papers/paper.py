"""Papers, scraps and who gets which: what the person has on the shelf, and what goes where."""

from dataclasses import dataclass, field
from enum import StrEnum

from peekpaper.bounds import Amount, ByNumber, Many, Millimetres, Name, Number, Some, Tag, Whole


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
    `picture_width_mm` its real width. `sheets` is how many there are (None: as many as needed).
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


@dataclass(frozen=True, slots=True)
class Scrap:
    """A left-over rectangle of a paper, in mm."""

    id: Tag
    paper: Tag
    width_mm: Millimetres
    height_mm: Millimetres


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
