"""A picture's px to a design's file."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from peekpaper.geometry.outline import Floats, Outline
from peekpaper.geometry.projective import finest_scale, projected, projection, refuse_bad_corners
from peekpaper.refusal import Refusal
from peekpaper.tracing.choices import Card, TracingChoices
from peekpaper.tracing.contours import Rings, zero_rings
from peekpaper.tracing.field import Pixels, strength_of
from peekpaper.tracing.outlines import outlines_of

MOST_POINTS = 1_000_000
"""Edges of a design, counted in px, and its outlines stay far below these; those of gravel do not."""
MOST_RINGS = 5_000
"""More outlines than any design has that a hand would back."""
_MANY_POINTS, _MOST_DENSE = 100_000, 0.25
"""Among many edges, more than one px in four on one is grain."""
_LEAST_SPECK_PX = 2.5
"""Diameter of what the grain of any picture makes."""
_USUAL_WIDTH_MM = 200.0
"""What a picture of unknown size is taken to be wide, to tell specks by."""


@dataclass(frozen=True, slots=True, eq=False)
class Tracing:
    """Outlines of the card in px of an upright sheet of that size; areas fill by even-odd.

    `width_mm` is None where nobody told how wide the sheet is. `dropped` counts specks and pinholes.
    """

    outlines: tuple[Outline, ...]
    width: float
    height: float
    width_mm: float | None
    height_mm: float | None
    card: Card
    threshold: float
    dropped: int


@dataclass(frozen=True, slots=True)
class Sheet:
    """The upright sheet that a picture becomes: its size in px, and in mm where that is known."""

    width: float
    height: float
    width_mm: float | None
    height_mm: float | None

    @property
    def px_per_mm(self) -> float:
        """How many px a mm has."""
        return self.width / (self.width_mm or _USUAL_WIDTH_MM)


def trace(picture: Pixels, choices: TracingChoices) -> Iterator[Tracing | None]:
    """Yield None for each step that is done, at last the outlines of the card in an RGBA picture.

    Raises Refusal for a picture that shows no card, one too busy to be a design, and corners about no sheet.
    """
    height, width = picture.shape[:2]
    sheet = sheet_of(choices, width, height)
    yield None
    strength = strength_of(picture, choices)
    yield None
    field = strength.field(choices.threshold)
    yield None
    all_rings = zero_rings(field.values)
    del strength
    rings = kept_rings(all_rings, choices, sheet, width, height)
    yield None
    yield Tracing(
        tuple(outlines_of(rings)),
        sheet.width,
        sheet.height,
        sheet.width_mm,
        sheet.height_mm,
        field.card,
        field.threshold,
        len(all_rings.heads) - len(rings.heads),
    )


def sheet_of(choices: TracingChoices, width: int, height: int) -> Sheet:
    """Return the sheet that a picture of that size becomes. Raises Refusal for corners about no sheet."""
    width_mm, height_mm = choices.width_mm, choices.height_mm
    if any(side is not None and not (math.isfinite(side) and side > 0) for side in (width_mm, height_mm)):
        raise Refusal("pictured-paper-without-size")
    if choices.corners is None:
        return Sheet(width, height, width_mm, None if width_mm is None else width_mm * height / width)
    refuse_bad_corners(choices.corners, width, height)
    if width_mm is None or height_mm is None:
        wide = finest_scale(choices.corners, 1.0, math.inf)
        high = finest_scale(choices.corners, math.inf, 1.0)
        return Sheet(wide, high, width_mm, None if width_mm is None else width_mm * high / wide)
    scale = finest_scale(choices.corners, width_mm, height_mm)
    return Sheet(width_mm * scale, height_mm * scale, width_mm, height_mm)


def kept_rings(rings: Rings, choices: TracingChoices, sheet: Sheet, width: int, height: int) -> Rings:
    """Return rings of a padded picture as they lie on the sheet, without specks and pinholes.

    Raises Refusal where none is left, or more than any design has.
    """
    points = rings.points - 1.0
    if choices.corners is not None:
        upright = [(0.0, 0.0), (sheet.width, 0.0), (sheet.width, sheet.height), (0.0, sheet.height)]
        points = projected(points, projection(choices.corners, upright))
    else:
        points = np.clip(points, 0.0, (width, height))
    placed = Rings(points, rings.heads)
    speck = max(choices.speck_mm * sheet.px_per_mm, _LEAST_SPECK_PX)
    kept = placed.chosen(np.abs(placed.areas()) > math.pi / 4 * speck**2)
    if not len(kept.heads):
        raise Refusal("picture-of-one-tone")
    count = len(kept.points)
    is_dense = count > max(_MANY_POINTS, _MOST_DENSE * width * height)
    if is_dense or count > MOST_POINTS or len(kept.heads) > MOST_RINGS:
        raise Refusal("picture-too-busy")
    return kept


def svg_of(tracing: Tracing) -> str:
    """Return a tracing as the text of an SVG file at true size, the card in black."""
    size = ""
    if tracing.width_mm is not None and tracing.height_mm is not None:
        size = f' width="{_number(tracing.width_mm)}mm" height="{_number(tracing.height_mm)}mm"'
    view = f"0 0 {_number(tracing.width)} {_number(tracing.height)}"
    path = "".join(_path(outline) for outline in tracing.outlines)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg"{size} viewBox="{view}">'
        f'<path fill="#000000" fill-rule="evenodd" d="{path}"/></svg>'
    )


def _path(outline: Outline) -> str:
    parts = [f"M{_pair(outline.cubics[0, 0])}"]
    for (_, first, second, end), straight in zip(outline.cubics, outline.straight, strict=True):
        parts.append(f"L{_pair(end)}" if straight else f"C{_pair(first)} {_pair(second)} {_pair(end)}")
    if outline.straight[-1]:
        parts.pop()
    return "".join([*parts, "Z"])


def _pair(point: Floats) -> str:
    return f"{_number(point[0])} {_number(point[1])}"


def _number(value: float) -> str:
    """Return a number to a hundredth of a px, or of a mm."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
