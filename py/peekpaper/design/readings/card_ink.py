"""What every habit is read to: the card and the colours that the file puts into its openings."""

from dataclasses import dataclass

from shapely import MultiPolygon
from shapely.geometry.base import BaseGeometry


@dataclass(frozen=True, slots=True)
class Mended:
    """Something that was put right while reading, in CSS px: "doubled", "gap", "open" or "crossing"."""

    kind: str
    where: BaseGeometry


@dataclass(frozen=True, slots=True)
class CardInk:
    """The card in CSS px, loose bits included.

    `given` are the colours that the file shows in the openings, `colours` all ink colours, the card's first.
    """

    area: MultiPolygon
    given: tuple[tuple[str, MultiPolygon], ...] = ()
    colours: tuple[str, ...] = ()
    mended: tuple[Mended, ...] = ()
