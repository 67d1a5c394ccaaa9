"""What a file holds, sorted for the question which of it is the card."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from statistics import median

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon

from peekpaper.design.areas import as_area, less, united
from peekpaper.design.colours import colour_classes, lightness, same_colour
from peekpaper.design.readings.card_ink import CardInk
from peekpaper.design.readings.cut_lines import read_cut_lines
from peekpaper.drawing.drawing import Area, Contour, Drawing, PaintedShape
from peekpaper.refusal import Refusal
from peekpaper.steady import hypot

_WHITE = "#ffffff"
_MOST_HIDDEN = 60_000
"""How many pairs of shapes of unlike colours may lie one over the other."""
_AT_ONCE = 500
_HAIRLINE = 0.008
"""A line thinner than this share of the drawing's diagonal is a line to cut, not card (from memory)."""


@dataclass(frozen=True, slots=True)
class Painted:
    """A painted area in CSS px and its colour `#rrggbb`."""

    area: Area
    colour: str


@dataclass(frozen=True)
class Content:
    """A drawing's paint and contours, without the sheet of colour that lies behind everything.

    `painted` is in paint order, `background` the colour behind it. `only_lines` tells that thin lines, filled
    with nothing or the background's colour, are all there is to see. `filled` are contours of filled shapes.
    """

    painted: tuple[Painted, ...]
    background: str
    contours: tuple[Contour, ...]
    filled: tuple[Contour, ...]
    only_lines: bool

    @cached_property
    def ink(self) -> MultiPolygon:
        """All paint, whatever its colour."""
        areas = np.array([paint.area for paint in self.painted], dtype=object)
        return as_area(united(areas))

    @cached_property
    def seen_colours(self) -> tuple[tuple[str, MultiPolygon], ...]:
        """The colours but for the background's, each with what can be seen of it, likeliest card first.

        That is the colour that spans most; of several that span as much, the larger area.
        """
        names, classes = self._classes
        areas = visible(self.painted, classes) if len(names) > 1 else [self.ink] * len(names)
        seen = [
            (name, area)
            for name, area in zip(names, areas, strict=True)
            if not area.is_empty and not same_colour(name, self.background)
        ]
        widest = max((shapely.box(*area.bounds).area for _, area in seen), default=0.0)

        def rank(colour: tuple[str, MultiPolygon]) -> tuple[bool, float]:
            return shapely.box(*colour[1].bounds).area < 0.95 * widest, -colour[1].area

        return tuple(sorted(seen, key=rank))

    @cached_property
    def colours(self) -> tuple[str, ...]:
        """The names of the seen colours, likeliest card first. A single one takes no overlay to find."""
        names, _ = self._classes
        if len(names) == 1:
            return () if same_colour(names[0], self.background) else (names[0],)
        return tuple(name for name, _ in self.seen_colours)

    @cached_property
    def _classes(self) -> tuple[list[str], list[int]]:
        """The colours in order of appearance, and which of them each paint has."""
        return colour_classes([paint.colour for paint in self.painted])

    @cached_property
    def cut_lines(self) -> CardInk:
        """The card as cut lines draw it."""
        return read_cut_lines(self.contours, self.colours)

    @cached_property
    def knocks_out(self) -> bool:
        """Whether shapes of the background's colour lie over other paint."""
        return any(same_colour(paint.colour, self.background) for paint in self.painted)


def content_of(drawing: Drawing) -> Content:
    """Return the drawing's content; shapes without paint count only where there are no others."""
    painted = [
        Painted(paint.area, paint.colour)
        for shape in drawing.shapes
        for paint in (shape.fill, shape.stroke)
        if paint is not None and not paint.area.is_empty
    ]
    visible_shapes = tuple(shape for shape in drawing.shapes if shape.fill or shape.stroke)
    has_background = _starts_with_background(painted)
    background = painted[0].colour if has_background else _WHITE
    shapes = tuple(
        shape
        for shape in visible_shapes or drawing.shapes
        if not (has_background and shape.fill is not None and shape.fill.area is painted[0].area)
    )
    return Content(
        painted=tuple(painted[1:] if has_background else painted),
        background=background,
        contours=tuple(contour for shape in shapes for contour in shape.contours),
        filled=tuple(contour for shape in shapes if shape.fill is not None for contour in shape.contours),
        only_lines=_only_lines(shapes, background),
    )


def visible(painted: Sequence[Painted], classes: Sequence[int]) -> list[MultiPolygon]:
    """Return what can be seen of each class of paint; classes count from 0, later paint hides earlier."""
    if not painted:
        return []
    areas = np.array([paint.area for paint in painted], dtype=object)
    kinds = np.asarray(classes)
    lower, upper = _hidden(areas, kinds)
    seen = areas.copy()
    for over in np.split(np.arange(len(lower)), np.flatnonzero(np.diff(lower)) + 1):
        if len(over):
            index = lower[over[0]]
            seen[index] = less(areas[index], united(areas[upper[over]]))
    return [as_area(united(seen[kinds == kind])) for kind in range(int(kinds.max()) + 1)]


def _hidden(
    areas: NDArray[np.object_], kinds: NDArray[np.int64]
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return which areas lie below which later ones of other kinds, by the lower one.

    Raises Refusal where too many do.
    """
    tree = shapely.STRtree(areas)
    pairs = [np.empty((2, 0), np.int64)]
    for low in range(0, len(areas), _AT_ONCE):
        lower, upper = tree.query(areas[low : low + _AT_ONCE], predicate="intersects")
        lower = lower + low
        hides = (upper > lower) & (kinds[upper] != kinds[lower])
        pairs.append(np.stack([lower[hides], upper[hides]]))
        if sum(part.shape[1] for part in pairs) > _MOST_HIDDEN:
            raise Refusal(
                "The shapes in the file overlap too often: unite them in your drawing program first."
            )
    lower, upper = np.concatenate(pairs, axis=1)
    order = np.argsort(lower, kind="stable")
    return lower[order], upper[order]


def _starts_with_background(painted: Sequence[Painted]) -> bool:
    """Tell whether the first paint is a light sheet behind everything else, not the card itself."""
    if len(painted) < 2:
        return False
    first, others = painted[0], painted[1:]
    sheet = shapely.box(*first.area.bounds)
    if first.area.area < 0.98 * sheet.area or all(
        same_colour(first.colour, paint.colour) for paint in others
    ):
        return False
    areas = np.array([paint.area for paint in others], dtype=object)
    held = shapely.box(*shapely.total_bounds(areas)).buffer(-1e-6 * sheet.length)
    sizes = shapely.area(areas)
    if sizes.sum() == 0 or not held.within(sheet):
        return False
    tones = np.array([lightness(paint.colour) for paint in others])
    return bool(lightness(first.colour) > max(0.5, float((sizes * tones).sum() / sizes.sum())))


def _only_lines(shapes: Sequence[PaintedShape], background: str) -> bool:
    """Tell whether thin lines are all that the shapes show."""
    fills = [shape.fill for shape in shapes if shape.fill is not None and not shape.fill.area.is_empty]
    lines = np.array([contour.line for shape in shapes for contour in shape.contours], dtype=object)
    if len(lines) == 0 or not all(same_colour(fill.colour, background) for fill in fills):
        return False
    widths = [shape.stroke_width for shape in shapes if shape.stroke is not None]
    left, top, right, bottom = shapely.total_bounds(lines)
    return bool(not widths or median(widths) <= _HAIRLINE * hypot(right - left, bottom - top))
