"""A design at its finished size: the card, its openings, its bars and what to know before cutting."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from shapely import LineString, MultiLineString, MultiPolygon, Point, Polygon

from peekpaper.bounds import Amount, Millimetres, Number, Tag
from peekpaper.design.division.division import Division, Joint
from peekpaper.message import Message
from peekpaper.units import FOOT_MM

LEAST_ALIKE = 5
"""The degree of likeness at which what looks roughly alike counts as alike; at 0 only what is congruent."""


class Habit(StrEnum):
    """How a file draws its openwork; the reader finds it and the person may change it."""

    SOLIDS = "solids"
    CUT_LINES = "cut-lines"
    KNOCK_OUTS = "knock-outs"
    LAYERS = "layers"
    INVERTED = "inverted"
    ALL_BUT = "all-but"
    FACES = "faces"


@dataclass(frozen=True, slots=True)
class Reading:
    """What the person decided on how to read the file; None leaves the choice to the reader.

    `card_colour` (`#rrggbb`) says which colour is the card in the habit LAYERS, `opening_colour` which one is
    not in the habit ALL_BUT. `to_page` tells whether what the file draws beyond its page is
    cut off. `card_number` takes one
    of several cards beside one another, counted from 1; None takes all. `px_per_inch` tells how many of the
    file's px make an inch where the file gives no physical size; None goes by its header. `width_mm` or
    `height_mm` set the finished size of the card's bounding box; both None keeps the file's.
    """

    habit: Habit | None = None
    card_colour: Tag | None = None
    px_per_inch: Amount | None = None
    width_mm: Millimetres | None = None
    height_mm: Millimetres | None = None
    opening_colour: Tag | None = None
    to_page: bool | None = None
    card_number: Number | None = None


@dataclass(frozen=True, slots=True)
class Limits:
    """What the check before cutting measures against, in mm (defaults: from memory, no published source)."""

    bar_mm: Millimetres = 1.5
    opening_mm2: Amount = 4.0


@dataclass(frozen=True, slots=True)
class MatSize:
    """Sides of the mat that the card is to be cut on, in mm (default: a foot, common practice).

    At its edge `rim_mm` can't be used.
    """

    width_mm: float = FOOT_MM
    height_mm: float = FOOT_MM
    rim_mm: float = 0.0

    def holds(self, width_mm: float, height_mm: float) -> bool:
        """Tell whether it is as large as something, one way up or the other."""
        short, long = sorted((width_mm, height_mm))
        own_short, own_long = sorted((self.width_mm, self.height_mm))
        return short <= own_short + 1e-6 and long <= own_long + 1e-6


@dataclass(frozen=True, slots=True)
class Opening:
    """A hole enclosed by the card, as the interior ring's whole area in mm.

    `number` counts from 1 in reading order (rows from the top, left to right) and is what a person
    sees. `alike` numbers the group of openings that match under turn and mirror, `same_shape` the
    group that matches at any size. `given_colour` is the colour that the file itself put there. `is_small`
    says that it is under the limit for openings that are backed with ease.
    """

    number: int
    area: Polygon
    alike: int
    same_shape: int
    given_colour: str | None
    is_small: bool = False


@dataclass(frozen=True, slots=True)
class Bar:
    """A strip of card between two openings, or between an opening and the outside (`second` None).

    `strip` is the area of card in it, `width_mm` its least width, `narrowest` the segment across it there.
    """

    first: int
    second: int | None
    width_mm: float
    narrowest: LineString
    strip: Polygon | MultiPolygon


@dataclass(frozen=True, slots=True)
class LooseBit:
    """Card that no bar holds, in mm: cut with the card, then glued by hand onto what backs `opening`.

    `number` counts from 1 in reading order; `opening` is the number of the opening that it lies in.
    """

    number: int
    area: Polygon
    opening: int

    @property
    def name(self) -> str:
        """What it is called on every sheet and on screen, so that nobody takes it for a piece."""
        return f"L{self.number}"


@dataclass(frozen=True, slots=True)
class DesignWarning:
    """Something to know before the first cut.

    `code` is stable (kebab-case), `message` tells the person what to do,
    `at` a place on the design, `where` the geometry to show, `severity` 3 (will fail) to 1 (note).
    `action` names what the page may offer as one tap, or None.
    """

    code: str
    message: Message
    at: Point
    where: Polygon | MultiPolygon | LineString | MultiLineString | None
    severity: int
    action: str | None = None


@dataclass(frozen=True, slots=True)
class Left:
    """What the person leaves as it is: what a check finds (its code) at a place in mm, None for anywhere."""

    finding: str
    where: Polygon | MultiPolygon | Point | None = None


@dataclass(frozen=True, slots=True)
class Design:
    """What was brought in, at its finished size in mm, with the card's bounding box at the origin.

    `loose_bits` are not part of `card`, and come in order of their numbers. `mm_per_px` tells how large a CSS
    px of the drawing became.
    `size_is_a_guess` is true while nothing but px gives the size. `habits` are the readings that
    make sense for this file, the chosen one first; `colours` the file's ink colours, the card's first.
    `usual_px_per_inch` are counts of px to the inch that would give it a usual size, the likeliest first.
    `origin_px` is the place in the drawing's px that lies at the origin, `lost_mends` the ids of the mends
    that find nothing to change, `left` what the person leaves as it is. `joint` tells that the card is to be
    divided where it is larger than the mat, and how; `division` is that of this card, None where it fits or
    can't be divided. While `is_whole` is false, alike
    openings, bars and warnings are still to come: every opening is a group of its own.
    """

    width_mm: float
    height_mm: float
    card: MultiPolygon
    openings: tuple[Opening, ...]
    bars: tuple[Bar, ...]
    loose_bits: tuple[LooseBit, ...]
    warnings: tuple[DesignWarning, ...]
    habits: tuple[Habit, ...]
    colours: tuple[str, ...]
    mm_per_px: float
    size_is_a_guess: bool
    origin_px: tuple[float, float] = (0.0, 0.0)
    lost_mends: tuple[str, ...] = ()
    left: tuple[Left, ...] = ()
    is_whole: bool = True
    usual_px_per_inch: tuple[float, ...] = ()
    joint: Joint | None = None
    division: Division | None = None

    def still_told(self, warnings: Iterable[DesignWarning]) -> tuple[DesignWarning, ...]:
        """Return warnings but for those that the person leaves as they are wherever they are found."""
        settled = {each.finding for each in self.left if each.where is None}
        return tuple(warning for warning in warnings if warning.code not in settled)
