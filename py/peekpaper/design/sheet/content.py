"""What a file holds, sorted for the question which of it is the card."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from statistics import median

import numpy as np
import shapely
from shapely import MultiPolygon

from peekpaper.design.readings.card_ink import CardInk
from peekpaper.design.readings.cut_lines import read_cut_lines
from peekpaper.design.readings.faces import read_faces
from peekpaper.design.readings.lines import CutLine, read_lines
from peekpaper.design.sheet.colours import colour_classes, same_colour
from peekpaper.design.sheet.contour_faults import contour_faults
from peekpaper.design.sheet.hairlines import hairline_width, may_be_bar
from peekpaper.design.sheet.mended import Mended
from peekpaper.design.sheet.seen import Painted, visible
from peekpaper.drawing.drawing import Area, PaintedShape
from peekpaper.geometry.areas import as_area, holes_of
from peekpaper.geometry.overlay import union_all

WHITE = "#ffffff"


@dataclass(frozen=True)
class Content:
    """Shapes and what is behind them: the colour `background`, and the sheet of it where the file draws one.

    `around` tells of lines around the shapes that were left out as the edge of a page.
    """

    shapes: tuple[PaintedShape, ...]
    background: str = WHITE
    sheet: Area | None = None
    around: tuple[Mended, ...] = ()

    @cached_property
    def painted(self) -> tuple[Painted, ...]:
        """The paint in its order."""
        return _paint_of(self.shapes)

    @cached_property
    def has_contours(self) -> bool:
        """Whether there is any line."""
        return any(shape.contours for shape in self.shapes)

    @cached_property
    def faults(self) -> tuple[Mended, ...]:
        """What is wrong with the contours of filled shapes."""
        filled = [contour for shape in self.shapes if shape.fill is not None for contour in shape.contours]
        return tuple(contour_faults(filled))

    @cached_property
    def only_lines(self) -> bool:
        """Whether thin lines, filled with nothing or the background's colour, are all there is to see.

        They may lie on a first shape that is filled throughout.
        """
        return (
            self.has_contours
            and (self._is_panel or all(_is_hollow(shape, self.background) for shape in self.shapes))
            and any(shape.fill is None or shape.stroke is not None for shape in self.shapes)
            and self._line_width <= self._hairline
        )

    @cached_property
    def may_be_bars(self) -> bool:
        """Whether lines, where there are only those, may be bars of card."""
        return may_be_bar(self._line_width, self._hairline)

    @cached_property
    def ink(self) -> MultiPolygon:
        """All paint, whatever its colour."""
        areas = np.array([paint.area for paint in self.painted], dtype=object)
        return as_area(union_all(areas))

    @cached_property
    def drawn_over(self) -> tuple[Painted, ...]:
        """The hairlines over other paint, which part no colour; none where there is no other paint."""
        over = [shape for shape in self.shapes if self._is_drawn_over(shape)]
        return _paint_of(over) if len(over) < len(self.shapes) else ()

    @cached_property
    def contrast(self) -> MultiPolygon:
        """What can be seen of all paint but that of the background's colour."""
        classes = [int(same_colour(paint.colour, self.background)) for paint in self.painted]
        if 0 not in classes:
            return MultiPolygon()
        names, known = self._classes
        behind = [int(same_colour(name, self.background)) for name in names]
        is_told = self._coloured is self.painted and [behind[which] for which in known] == classes
        if sorted(behind) == [0, 1] and is_told:
            # One colour beside the background's: what can be seen of both is known once either is asked for.
            return self.regions[behind.index(0)][1]
        return visible(self.painted, classes)[0]

    @cached_property
    def regions(self) -> tuple[tuple[str, MultiPolygon], ...]:
        """All colours in their order of appearance, each with what can be seen of it."""
        names, classes = self._classes
        areas = visible(self._coloured, classes) if len(names) > 1 else [self.ink] * len(names)
        return tuple(zip(names, areas, strict=True))

    @cached_property
    def seen_colours(self) -> tuple[tuple[str, MultiPolygon], ...]:
        """The colours but for the background's, each with what can be seen of it, likeliest card first.

        That is the colour that spans most; of several that span as much, the larger area.
        """
        seen = [
            (name, area)
            for name, area in self.regions
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
    def cut_lines(self) -> CardInk:
        """The card as cut lines draw it."""
        contours = [contour for shape in self.shapes for contour in shape.contours]
        return self.line_card or read_cut_lines(contours, self.colours)

    @cached_property
    def line_card(self) -> CardInk | None:
        """The card that lines draw beside what is scored or engraved, None where there is no such card."""
        return read_lines(list(map(self._cut_line, self.shapes)), self.colours)

    @cached_property
    def faces(self) -> CardInk | None:
        """The card that lines share out where they meet, None where that is not what is drawn."""
        if not self.only_lines or self.line_card is not None:
            return None
        return read_faces([contour for shape in self.shapes for contour in shape.contours], self.colours)

    @cached_property
    def knocks_out(self) -> bool:
        """Whether there are shapes of the background's colour."""
        return any(same_colour(paint.colour, self.background) for paint in self.painted)

    @cached_property
    def _classes(self) -> tuple[list[str], list[int]]:
        """The colours in order of appearance, and which of them each paint has."""
        return colour_classes([paint.colour for paint in self._coloured])

    @cached_property
    def _coloured(self) -> tuple[Painted, ...]:
        """The paint but for hairlines over it, which part no colour; those too where there is no other.

        A line too thin for a bar around a filled shape belongs to that.
        """
        drawn = [self._in_one(shape) for shape in self.shapes if not self._is_drawn_over(shape)]
        if list(map(id, drawn)) == list(map(id, self.shapes)):
            return self.painted
        return _paint_of(drawn) or self.painted

    def _in_one(self, shape: PaintedShape) -> PaintedShape:
        """Return a shape, its line in the colour of its fill where that is all that counts."""
        if shape.fill is None or shape.stroke is None or _is_hollow(shape, self.background):
            return shape
        if may_be_bar(shape.stroke_width, self._hairline):
            return shape
        return replace(shape, stroke=replace(shape.stroke, colour=shape.fill.colour))

    def _is_drawn_over(self, shape: PaintedShape) -> bool:
        return shape.fill is None and not may_be_bar(shape.stroke_width, self._hairline)

    @cached_property
    def _is_panel(self) -> bool:
        """Whether all but the first shape are lines, and that is filled and has no holes."""
        if len(self.shapes) < 2:
            return False
        first, *others = self.shapes
        return (
            first.fill is not None
            and not holes_of(first.fill.area)
            and all(shape.fill is None and shape.stroke is not None for shape in others)
        )

    @cached_property
    def _line_width(self) -> float:
        """The median width of the lines that are painted."""
        return median([shape.stroke_width for shape in self.shapes if shape.stroke is not None] or [0.0])

    @cached_property
    def _hairline(self) -> float:
        lines = np.array([one.line for shape in self.shapes for one in shape.contours], dtype=object)
        return hairline_width(*shapely.total_bounds(lines)) if len(lines) else 0.0

    def _cut_line(self, shape: PaintedShape) -> CutLine:
        is_hairline = shape.stroke_width <= self._hairline and _is_hollow(shape, self.background)
        colour = shape.stroke.colour if shape.stroke is not None and is_hairline else None
        return CutLine(shape.contours, colour, is_bare=shape.fill is None)


def _paint_of(shapes: Sequence[PaintedShape]) -> tuple[Painted, ...]:
    return tuple(
        Painted(paint.area, paint.colour)
        for shape in shapes
        for paint in (shape.fill, shape.stroke)
        if paint is not None and not paint.area.is_empty
    )


def _is_hollow(shape: PaintedShape, background: str) -> bool:
    """Tell whether a shape is filled with nothing, or with the background's colour."""
    return shape.fill is None or shape.fill.area.is_empty or same_colour(shape.fill.colour, background)
