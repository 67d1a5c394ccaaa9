"""What every habit is read to: the card and the colours that the file puts into its openings."""

from dataclasses import dataclass

from shapely import MultiPolygon

from peekpaper.design.sheet.mended import Fault, Mended


@dataclass(frozen=True, slots=True)
class CardInk:
    """The card in CSS px, loose bits included.

    `given` are the colours that the file shows in the openings, `colours` all ink colours, the card's first.
    """

    area: MultiPolygon
    colours: tuple[str, ...] = ()
    given: tuple[tuple[str, MultiPolygon], ...] = ()
    mended: tuple[Mended, ...] = ()

    @property
    def uncut(self) -> float:
        """The length in CSS px of the lines that are told of as open, or as not to be cut."""
        faults = (Fault.OPEN, Fault.NOT_CUT)
        return sum(mended.where.length for mended in self.mended if mended.fault in faults)
