"""What papers fill areas with in pictures: their pattern where it is known, else their colour."""

from dataclasses import dataclass

import numpy as np

from peekpaper.geometry.outline import Floats, rectangle
from peekpaper.sheets.paper_names import used_papers
from peekpaper.sheets.picture.colours import HAIRLINE, tint
from peekpaper.sheets.picture.picture import Area, Mark, Pattern, Stroke
from peekpaper.sheets.work import Look, Work

_SWATCH_SCALE = 0.35
"""How small swatches show patterns, so that more than a bit of a repeat is seen."""


@dataclass(frozen=True, slots=True)
class Fill:
    """A paper's colour, and how its pattern looks where that is known."""

    colour: str
    look: Look | None = None

    def area(self, rings: tuple[Floats, ...], matrix: Floats) -> Area:
        """Return filled rings; `matrix` (2, 3) maps the paper, in mm from its corner, to the picture."""
        if self.look is None:
            return Area(rings, self.colour)
        look = self.look
        return Pattern(rings, self.colour, look.raster, look.width_mm, matrix, look.pixels)

    def thinned(self, strength: float) -> "Fill":
        """Return the colour alone, thinned with white: 1 is the colour itself, 0 white."""
        return Fill(tint(self.colour, strength))

    def swatch(self, x: float, y: float, side: float) -> list[Mark]:
        """Return a small square that shows the paper, with its top left corner at (`x`, `y`)."""
        ring = rectangle(x, y, side, side)
        matrix = np.array([[_SWATCH_SCALE, 0.0, x], [0.0, _SWATCH_SCALE, y]])
        return [self.area((ring,), matrix), Stroke((ring,), HAIRLINE, 0.15)]


def fills(work: Work) -> dict[str, Fill]:
    """Return what each used paper fills areas with, by its id."""
    return {paper.id: Fill(paper.colour, work.looks.get(paper.id)) for paper in used_papers(work)}
