"""A card that is larger than the mat, in parts that each fit it."""

from dataclasses import dataclass
from enum import StrEnum

from shapely import MultiLineString, MultiPolygon

SPARE_MM = 0.3
"""How far a tab keeps from the edges of the card on top of it, so that it does not peep out (from memory)."""


class Joint(StrEnum):
    """How parts hold together: a tab glued under the neighbour, or edge to edge on a whole-back."""

    TAB = "tab"
    EDGE = "edge"


@dataclass(frozen=True, slots=True)
class CardPart:
    """What is cut at one go, where it lies in the design (mm).

    `number` counts from 1; where parts overlap the lower number lies on top. `tab` is what of the part comes
    to lie under others and gets the glue, `marks` the lines on it to which their edges go, `seen_edges` those
    of its own edges that are seen on the others' card, and `bits` the numbers of the loose bits cut with it.
    """

    number: int
    area: MultiPolygon
    tab: MultiPolygon
    marks: MultiLineString
    seen_edges: MultiLineString
    bits: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Division:
    """The parts of a card, in order of their numbers, and how they hold together."""

    joint: Joint
    parts: tuple[CardPart, ...]

    @property
    def seams(self) -> MultiLineString:
        """What is seen of the joints from the front."""
        return MultiLineString([line for part in self.parts for line in part.seen_edges.geoms])
