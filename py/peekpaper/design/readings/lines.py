"""Which of a file's lines are to be cut; beside them there may be lines to score, and areas to engrave."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely import MultiPolygon

from peekpaper.design.readings.card_ink import CardInk
from peekpaper.design.readings.cut_lines import read_cut_lines
from peekpaper.design.sheet.colours import is_red
from peekpaper.design.sheet.mended import Fault, Mended
from peekpaper.design.worth import SEVERAL
from peekpaper.drawing.drawing import Contour
from peekpaper.geometry.areas import geometries, holes_of


@dataclass(frozen=True, slots=True)
class CutLine:
    """A shape's contours, and the colour `#rrggbb` of its line where a thin one is all there is to see.

    `is_bare` tells that the shape is not filled at all.
    """

    contours: tuple[Contour, ...]
    colour: str | None
    is_bare: bool


def read_lines(lines: Sequence[CutLine], colours: tuple[str, ...]) -> CardInk | None:
    """Return the card that some of the lines draw by themselves, None where none do.

    Where red lines make a card with openings, others are scored (a common practice with lasers); where thin
    lines do, filled areas that lie on it, or beside several openings, are engraved. What is not to be cut is
    reported.
    """
    red = [line for line in lines if line.colour is not None and is_red(line.colour)]
    bare = [line for line in lines if line.colour is not None and line.is_bare]
    for cut in (red, bare):
        if 0 < len(cut) < len(lines):
            card = read_cut_lines(contours_of(cut), colours)
            kept = set(map(id, cut))
            others = contours_of([line for line in lines if id(line) not in kept])
            holes = len(holes_of(card.area))
            if holes >= SEVERAL or (holes and (cut is red or _lie_on(others, card.area))):
                left = tuple(Mended(Fault.NOT_CUT, contour.line) for contour in others)
                return replace(card, mended=(*card.mended, *left))
    return None


def _lie_on(contours: Sequence[Contour], card: MultiPolygon) -> bool:
    """Tell whether most of the contours, by length, lie on a card, and not in its openings or beside it."""
    lines = geometries([contour.line for contour in contours])
    inside, _ = shapely.STRtree(list(card.geoms)).query(lines, predicate="within")
    lengths = shapely.length(lines)
    return bool(2 * lengths[np.unique(inside)].sum() >= lengths.sum())


def contours_of(lines: Sequence[CutLine]) -> list[Contour]:
    """Return the contours of lines."""
    return [contour for line in lines for contour in line.contours]
