"""The paper behind the openings: what the person wants of it, and the pieces that come of it."""

from dataclasses import dataclass
from enum import StrEnum

from shapely import LineString, MultiPolygon, Polygon

from peekpaper.backing.simple.punches import SimpleShape
from peekpaper.bounds import Few, Many, Millimetres, Name, Number, Tag
from peekpaper.design.design import DesignWarning
from peekpaper.message import Message

STOCK_PUNCHES = tuple(
    f"{form} {size} in"
    for form in ("square", "circle")
    for size in ("1/2", "5/8", "3/4", "1", "1 1/4", "1 1/2", "2")
)


class Mode(StrEnum):
    """FITTED gives each edge the lip that its own bar allows, UNIFORM one lip to all."""

    FITTED = "fitted"
    UNIFORM = "uniform"


@dataclass(frozen=True, slots=True)
class WholeBack:
    """One sheet behind the entire outline, drawn in from the outside by `edge_margin_mm`.

    `fills_outside_holes` closes notches and gaps of a card in several parts instead of respecting them.
    """

    paper: Tag
    edge_margin_mm: Millimetres = 2.0
    fills_outside_holes: bool = False


@dataclass(frozen=True, slots=True)
class BackingChoices:
    """How the backing is to be made, in mm (defaults: common practice, no published source).

    `clearance_mm` is kept from a neighbour that stays open, `edge_margin_mm` from the outside of the card.
    Openings with the same paper across bars narrower than `shared_bar_mm` share a piece (None: never).
    `joined` and `split` are the person's own pairs of opening numbers, joined or kept apart whatever the
    limit. `punches` are the person's stock by name; `simple_shapes` are the pairs of an opening's number
    and the name of the simple shape taken for it.
    """

    mode: Mode = Mode.FITTED
    lip_mm: Millimetres = 3.0
    least_lip_mm: Millimetres = 0.8
    gap_mm: Millimetres = 0.4
    clearance_mm: Millimetres = 0.4
    edge_margin_mm: Millimetres = 1.0
    shared_bar_mm: Millimetres | None = None
    joined: Many[tuple[Number, Number]] = ()
    split: Many[tuple[Number, Number]] = ()
    punches: Few[Name] = STOCK_PUNCHES
    simple_shapes: Many[tuple[Number, Name]] = ()
    whole_back: WholeBack | None = None


@dataclass(frozen=True, slots=True)
class SimpleShapeOffer:
    """A punch or a two-cut rectangle that would do instead of the fitted outline of a piece.

    `name` is the shape's name, `message` the offer in words, `outline` where it lies on the design.
    `cut_in` is the unit ("in" or "mm") in whose steps a rectangle of two cuts is measured, None for a punch.
    """

    piece: int
    name: str
    message: Message
    outline: Polygon
    shape: SimpleShape
    cut_in: str | None


@dataclass(frozen=True, slots=True)
class Piece:
    """One backing piece in design coordinates (mm): seen from the front, as it lies behind the card.

    `number` is the least number of its `openings`. `outline` has no holes. `paper` is the paper's id.
    `lip_min_mm` and `lip_median_mm` are measured along the edges of its openings.
    """

    number: int
    openings: tuple[int, ...]
    paper: str
    outline: Polygon
    lip_min_mm: float
    lip_median_mm: float
    simple_shape: str | None


@dataclass(frozen=True, slots=True)
class FewerPieces:
    """How many pieces there would be with bars under `limit_mm` spanned, and which openings share then."""

    limit_mm: float
    pieces: int
    shared: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True)
class Backing:
    """All pieces of a design, and the figures that tell how good they are.

    `uniform_lip_mm` is the largest uniform lip that fits everywhere (the wanted one at most).
    `smallest_width_mm` is the least finished width at which every backed opening gets its least lip (infinite
    where none will do, as between openings that touch, or where the wanted lip is less), `smallest_set_by`
    the segments across the bars that set it (empty where none does). `nodes_before` and `nodes_after` count
    the outlines' nodes before and after hidden edges were made easy to cut. `under_least_lip` numbers the
    pieces under the least lip. `fewer` tells how few pieces would do across wider bars, None where that does
    not pay.
    """

    pieces: tuple[Piece, ...]
    whole_back: MultiPolygon | None
    offers: tuple[SimpleShapeOffer, ...]
    pieces_saved_by_sharing: int
    uniform_lip_mm: float
    smallest_width_mm: float
    smallest_set_by: tuple[LineString, ...]
    nodes_before: int
    nodes_after: int
    under_least_lip: tuple[int, ...]
    warnings: tuple[DesignWarning, ...]
    fewer: FewerPieces | None = None
