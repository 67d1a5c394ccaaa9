"""Mends: changes of the card that a person wants, while the file stays as it came.

All places and lengths are in the drawing's own CSS px, areas in square px: so a mend stays where it was made,
and as wide for its surroundings, at any finished size. Mends apply one after the other.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated, ClassVar, TypeAlias

from peekpaper.bounds import Count, Tag, Within
from peekpaper.design.division.division import Joint

MOST_MENDS = 20_000
"""More than any design of the most openings needs; it keeps a broken document from filling the memory."""
_MOST_PX = 1e7
"""The bound of coordinates, far beyond any page: more would lose the digits of a millimetre."""

Coordinate = Annotated[float, Within(-_MOST_PX, _MOST_PX)]
Length = Annotated[float, Within(1e-6, _MOST_PX)]
LengthOrNone = Annotated[float, Within(0.0, _MOST_PX)]
Area = Annotated[float, Within(0.0, _MOST_PX**2)]
Place = tuple[Coordinate, Coordinate]
Line = Annotated[tuple[Place, ...], Count(2, 2_000)]
Outline = Annotated[tuple[Place, ...], Count(3, 20_000)]
Outlines = Annotated[tuple[Outline, ...], Count(1, 2_000)]
Places = Annotated[tuple[Outline, ...], Count(0, 2_000)]
Turn = tuple[Coordinate, Coordinate, Coordinate, Coordinate, Coordinate, Coordinate]
"""Numbers a to f of the map that takes (x, y) to (a x + b y + c, d x + e y + f)."""
Turns = Annotated[tuple[Turn, ...], Count(0, 10_000)]


@dataclass(frozen=True, slots=True)
class AddBar:
    """A bar of card `width` wide along a line that ends in card on both sides."""

    kind: ClassVar[str] = "bar"
    line: Line
    width: Length


@dataclass(frozen=True, slots=True)
class Thicken:
    """Card made at least `width` wide along the middle line of a thin bar or neck."""

    kind: ClassVar[str] = "thicken"
    line: Line
    width: Length


@dataclass(frozen=True, slots=True)
class AddCard:
    """Card added within closed outlines, of which those inside others are holes; and again at each turn."""

    kind: ClassVar[str] = "card"
    outlines: Outlines
    turns: Turns = ()


@dataclass(frozen=True, slots=True)
class RubOut:
    """Card taken away along a line, as far as `radius` on either side."""

    kind: ClassVar[str] = "rub"
    line: Line
    radius: Length


@dataclass(frozen=True, slots=True)
class FillOpening:
    """The innermost opening at a place becomes card, with all that lies in it."""

    kind: ClassVar[str] = "fill"
    at: Place


@dataclass(frozen=True, slots=True)
class CutOpening:
    """An opening cut within a closed outline."""

    kind: ClassVar[str] = "cut"
    outline: Outline


class Fate(StrEnum):
    """What becomes of a loose bit that no bar holds."""

    GLUE = "glue"
    DROP = "drop"


@dataclass(frozen=True, slots=True)
class SettleBit:
    """The bit of card at a place is glued on by hand, or goes."""

    kind: ClassVar[str] = "loose-bit"
    at: Place
    fate: Fate = Fate.GLUE


@dataclass(frozen=True, slots=True)
class LeaveAsIs:
    """What was found stays as it is within closed outlines, of which those inside others are holes.

    Without outlines it does wherever it is found.
    """

    kind: ClassVar[str] = "leave"
    outlines: Places = ()


class FrameShape(StrEnum):
    """The outline of a frame: a rectangle, with square or rounded corners, or one that follows the card."""

    RECTANGLE = "rectangle"
    OUTLINE = "outline"


@dataclass(frozen=True, slots=True)
class AddFrame:
    """A frame of card around everything.

    It is `width` wide and keeps `margin` clear of the card, or reaches into it where that is below zero.
    `corner` is the radius of its outer corners, `hole` the diameter of a hole at the top to hang it by, 0 for
    none.
    """

    kind: ClassVar[str] = "frame"
    shape: FrameShape
    width: Length
    margin: Coordinate = 0.0
    corner: LengthOrNone = 0.0
    hole: LengthOrNone = 0.0


@dataclass(frozen=True, slots=True)
class Smooth:
    """All outlines drawn smoother, straying about `tolerance` at most from where they were.

    Corners of openings sharper than the radius `corner` are rounded to it; 0 leaves them.
    """

    kind: ClassVar[str] = "smooth"
    tolerance: LengthOrNone
    corner: LengthOrNone = 0.0


@dataclass(frozen=True, slots=True)
class DropSpecks:
    """Bits of card smaller than `area` go."""

    kind: ClassVar[str] = "drop-specks"
    area: Area


@dataclass(frozen=True, slots=True)
class FillSmall:
    """Openings smaller than `area` become card."""

    kind: ClassVar[str] = "fill-small"
    area: Area


@dataclass(frozen=True, slots=True)
class DivideCard:
    """The card comes in parts that fit the mat, where it is larger than that; the last such mend counts."""

    kind: ClassVar[str] = "divide"
    joint: Joint = Joint.TAB


Change: TypeAlias = (
    AddBar
    | AddCard
    | Thicken
    | RubOut
    | FillOpening
    | CutOpening
    | SettleBit
    | LeaveAsIs
    | AddFrame
    | Smooth
    | DropSpecks
    | FillSmall
    | DivideCard
)


@dataclass(frozen=True, slots=True)
class Mend:
    """One change; `finding` is the code of the warning that it answers, empty where it was made by hand."""

    id: Tag
    change: Change
    finding: Tag = ""


Mends = Annotated[tuple[Mend, ...], Count(0, MOST_MENDS)]
