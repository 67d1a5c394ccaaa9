"""Papers, scraps and who gets which: what the person has on the shelf, and what goes where."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum


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

    id: str
    name: str
    colour: str
    pattern: str | None = None
    picture: str | None = None
    picture_width_mm: float | None = None
    sheet_width_mm: float = 304.8
    sheet_height_mm: float = 304.8
    sheets: int | None = None
    direction: Direction = Direction.ANY
    both_sides: bool = False
    price: float | None = None


@dataclass(frozen=True, slots=True)
class Scrap:
    """A left-over rectangle of a paper, in mm."""

    id: str
    paper: str
    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True)
class Shelf:
    """The papers and scraps at hand, in the person's order."""

    papers: tuple[Paper, ...] = ()
    scraps: tuple[Scrap, ...] = ()


@dataclass(frozen=True, slots=True)
class Colourway:
    """One full assignment of papers to openings.

    `papers` maps an opening's number to a paper's id; an opening that is missing stays open. `locked`
    are the openings that a suggestion must not change.
    """

    id: str
    name: str
    papers: Mapping[int, str] = field(default_factory=dict)
    locked: tuple[int, ...] = ()
