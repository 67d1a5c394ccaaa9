"""The plan: which trims to cut from which papers, where pieces lie in trims and trims on mats."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from shapely import Polygon

from peekpaper.bounds import Amount, Degrees, Many, Millimetres, Name, Number, Some, Tag, Whole
from peekpaper.message import Message
from peekpaper.papers.paper import Scrap
from peekpaper.units import FOOT_MM


class TrimShape(StrEnum):
    """The shape that trims should rather have."""

    ANY = "any"
    LONG = "long"
    SQUARE = "square"


class MatUse(StrEnum):
    """TOGETHER puts trims of several papers on one mat; SHEETS gives each paper full sheets on own mats."""

    TOGETHER = "together"
    SHEETS = "sheets"


def trim_is_of(trim: str, paper: str) -> bool:
    """Tell whether a trim's id ("p1-2") is one of that paper's."""
    name, _, counter = trim.rpartition("-")
    return name == paper and counter.isdigit()


@dataclass(frozen=True, slots=True)
class PiecePin:
    """A piece that the person laid by hand: its place in a trim stays as it is.

    The piece's outline, turned by `turn_deg` about the design's origin and then moved by (`x_mm`, `y_mm`),
    gives its place in the coordinates of trim `trim`.
    """

    piece: Number
    trim: Name
    turn_deg: Degrees
    x_mm: Millimetres
    y_mm: Millimetres


@dataclass(frozen=True, slots=True)
class TrimPin:
    """A trim that the person laid by hand: its size, its mat and its corner on the mat stay as they are."""

    trim: Name
    paper: Tag
    width_mm: Millimetres
    height_mm: Millimetres
    mat: Number
    x_mm: Millimetres
    y_mm: Millimetres
    turned: bool


@dataclass(frozen=True, slots=True)
class PaperRounds:
    """How many rounds of the search went, or are to go, into the trims of one paper."""

    paper: Tag
    rounds: Whole


def rounds_of(papers: Iterable[PaperRounds]) -> dict[str, int]:
    """Return the rounds by paper id."""
    return {one.paper: one.rounds for one in papers}


def are_at_most(one: Iterable[PaperRounds], other: Iterable[PaperRounds]) -> bool:
    """Tell whether no paper has more rounds in `one` than in `other`."""
    most = rounds_of(other)
    return all(rounds <= most.get(paper, 0) for paper, rounds in rounds_of(one).items())


@dataclass(frozen=True, slots=True)
class PlanChoices:
    """How trims and mats are to be laid out, in mm (defaults: common practice, no published source).

    `trim_step_mm` rounds the trims' sides up (None: free). `mat_rim_mm` can't be used at the mat's edge,
    `mat_grid_mm` is the pitch of its printed grid. `rounds` bounds the work on each paper independent of
    the clock (None: until the time is up; a paper that it lacks gets the first answer), `seed` makes it
    repeatable. `least_scrap_mm` is the least side of a scrap that is worth keeping: a larger one is not used
    up by a small trim.
    """

    trim_step_mm: Millimetres | None = 12.7
    spacing_mm: Millimetres = 1.5
    margin_mm: Millimetres = 3.0
    trim_shape: TrimShape = TrimShape.ANY
    mat_width_mm: Millimetres = FOOT_MM
    mat_height_mm: Millimetres = FOOT_MM
    mat_rim_mm: Millimetres = 0.0
    mat_grid_mm: Millimetres = 12.7
    mat_use: MatUse = MatUse.TOGETHER
    least_scrap_mm: Millimetres = 50.8
    seed: Whole = 1
    rounds: Some[PaperRounds] | None = None
    piece_pins: Many[PiecePin] = ()
    trim_pins: Some[TrimPin] = ()


@dataclass(frozen=True, slots=True)
class Cut:
    """A colourway that was cut: the booking of its paper, and what makes its plan again as it was then.

    `scraps` are those that were on the project's shelf, `rounds` the work that went into the plan.
    """

    colourway: Tag
    booking: Tag
    scraps: Many[Scrap] = ()
    rounds: Some[PaperRounds] = ()


@dataclass(frozen=True, slots=True)
class CutSpeed:
    """How fast the person's machine works, from one timed cut of their own (defaults: from memory)."""

    mm_per_second: Amount = 20.0
    seconds_per_piece: Amount = 1.5


@dataclass(frozen=True, slots=True)
class PieceToPlace:
    """A piece as the plan sees it: `outline` in design coordinates, `paper` the paper's id.

    Pieces with the same `alike` number may swap places when their outlines match. `lip_mm` is how far the
    outline reaches, at most, past what grows and shrinks with the design, `design_width_mm` how wide that is.
    """

    number: int
    paper: str
    outline: Polygon
    alike: int
    lip_mm: float = 0.0
    design_width_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class PlacedPiece:
    """Where a piece lies in its trim, in the trim's coordinates (origin at its top left corner).

    The piece's outline in the design, turned by `turn_deg` (clockwise on screen) about the design's origin
    and then moved by (`x_mm`, `y_mm`), gives `outline`.
    """

    number: int
    turn_deg: float
    x_mm: float
    y_mm: float
    outline: Polygon


@dataclass(frozen=True, slots=True)
class SheetPlacement:
    """Where a trim is cut from its paper: on which of the paper's sheets (from 1), its top left corner there
    in mm, and whether it lies a quarter turn clockwise on the upright sheet.
    """

    sheet: int
    x_mm: float
    y_mm: float
    turned: bool


@dataclass(frozen=True, slots=True)
class Trim:
    """A rectangle to cut from a paper, unturned (as it lies on the upright sheet), and its place on a mat.

    `id` is the paper's id and a counter ("p1-1"). `scrap` is the id of the scrap used, else None.
    `turned` tells that it lies a quarter turn clockwise on the mat; (`x_mm`, `y_mm`) is its top left corner
    there. `cut_from` tells where on which sheet it is cut, None for a scrap. Where the paper is printed it is
    None too, and `printed_at` tells where on which page the trim is printed, its pattern turned with it;
    places count from the corner of the page's room. `outline` is that of a scrap that is no rectangle, and
    the trim is the box around it.
    """

    id: str
    paper: str
    width_mm: float
    height_mm: float
    scrap: str | None
    pieces: tuple[PlacedPiece, ...]
    mat: int
    x_mm: float
    y_mm: float
    turned: bool
    cut_from: SheetPlacement | None = None
    printed_at: SheetPlacement | None = None
    outline: Polygon | None = None

    @property
    def source(self) -> SheetPlacement | None:
        """Where on which sheet or page the trim comes from; None for a scrap."""
        return self.cut_from or self.printed_at


@dataclass(frozen=True, slots=True)
class Mat:
    """A mat to load: counts from 1, with its full size in mm."""

    number: int
    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True)
class Plan:
    """A complete layout and the figures that matter.

    `paper_area_mm2` is the trims' area and `sheets` the number of sheets needed, by paper id. `rounds` tells
    how much work went into it, `complete` is False while a better plan is still sought.
    """

    trims: tuple[Trim, ...]
    mats: tuple[Mat, ...]
    paper_area_mm2: tuple[tuple[str, float], ...]
    sheets: tuple[tuple[str, int], ...]
    cut_length_mm: float
    seconds: float
    rounds: tuple[PaperRounds, ...]
    complete: bool
    warnings: tuple[Message, ...]
