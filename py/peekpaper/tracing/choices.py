"""What a person decides about a picture that is to become a design."""

from dataclasses import dataclass
from enum import StrEnum

Corner = tuple[float, float]


class Card(StrEnum):
    """What of a picture the card is."""

    DARK = "dark"
    LIGHT = "light"
    COLOUR = "colour"
    OPAQUE = "opaque"


@dataclass(frozen=True, slots=True)
class TracingChoices:
    """How a picture becomes a design; None leaves a choice to the picture.

    `card` says what of it the card is; `colour` (`#rrggbb`) which colour, where that is what tells.
    `threshold`, from 0 to 1, is how much of that a px must have; 0.5 lies halfway between the two sides.
    `corners` (px, clockwise from the top left) mark a sheet in the picture, and nothing beyond it is traced.
    `width_mm` is how wide the sheet is, else the whole picture, and `height_mm` how high; the height of a
    whole picture follows from its width. `speck_mm` is the diameter below which specks and pinholes are
    dropped.
    """

    card: Card | None = None
    colour: str = "#000000"
    threshold: float | None = None
    corners: tuple[Corner, Corner, Corner, Corner] | None = None
    width_mm: float | None = None
    height_mm: float | None = None
    speck_mm: float = 0.6
