"""From a shape in its place to the areas that its fill and its stroke cover on the page."""

from dataclasses import dataclass

import numpy as np
import shapely

from peekpaper.drawing.areas import transform_area
from peekpaper.drawing.budget import Budget
from peekpaper.drawing.cascade import Cascade
from peekpaper.drawing.clip import Clipper
from peekpaper.drawing.colour import Colour
from peekpaper.drawing.dashes import cut_dashes
from peekpaper.drawing.document import Document, local_name
from peekpaper.drawing.drawing import Area, Contour, Paint, PaintedShape
from peekpaper.drawing.fill import fill_area
from peekpaper.drawing.lengths import Axis, to_px
from peekpaper.drawing.paint_server import GRADIENTS, fits_bounding_box, gradient_colour
from peekpaper.drawing.path import Path, Polyline, count_pieces, curve_extremes, flatten
from peekpaper.drawing.stroke import Nib, stroke_area
from peekpaper.drawing.style import PaintSource
from peekpaper.drawing.walk import Leaf, Place, Walker

MAX_COORDINATE = 1e7
"""Shapes that reach further, in px, are no cutting designs but mistakes of a program."""


class UnreadableShapeError(Exception):
    """The numbers of a shape are beyond all measure."""


@dataclass(frozen=True, slots=True)
class Painter:
    """Paints the shapes of one file."""

    document: Document
    cascade: Cascade
    walker: Walker
    clipper: Clipper
    budget: Budget
    tolerance: float

    def paint(self, leaf: Leaf) -> tuple[PaintedShape, frozenset[str]]:
        """Return the painted shape and the kinds of paint that were left out.

        Raises UnreadableShapeError for coordinates beyond MAX_COORDINATE.
        """
        place, style = leaf.place, leaf.place.style
        path = leaf.path.transformed(place.matrix)
        if not np.isfinite(path.curves).all() or np.abs(path.curves).max() > MAX_COORDINATE:
            raise UnreadableShapeError
        self.budget.points(int(count_pieces(path.curves, self.tolerance).sum()))
        lines = flatten(path, self.tolerance)
        contours = tuple(
            Contour(
                shapely.LineString(np.column_stack((line.points.real, line.points.imag))), _is_closed(line)
            )
            for line in lines
            if len(line.points) > 1 and (line.points != line.points[0]).any()
        )
        left_out: set[str] = set()
        fill = stroke = None
        width = 0.0
        if style.visibility == "visible":
            colour = self._colour(style.fill, style.fill_opacity, leaf, left_out)
            if colour is not None:
                area = fill_area([line.points for line in lines], even_odd=style.fill_rule == "evenodd")
                fill = self._paint(area, colour, place)
        colour = self._colour(style.stroke, style.stroke_opacity, leaf, left_out)
        if colour is not None:
            width = to_px(style.stroke_width, Axis.BOTH, place.measures)
            if width > 0 and style.visibility == "visible":
                stroke = self._paint(self._stroke(lines, width, place), colour, place)
            width *= 1.0 if style.vector_effect == "non-scaling-stroke" else place.matrix.scale
        shape = PaintedShape(fill, stroke, width, contours, place.layer, leaf.element.get("id"))
        return shape, frozenset(left_out)

    def _paint(self, area: Area, colour: Colour, place: Place) -> Paint | None:
        area = self.clipper.clip(area, place.clips)
        return Paint(area, colour.hex, colour.alpha) if not area.is_empty else None

    def _colour(self, source: PaintSource, opacity: float, leaf: Leaf, left_out: set[str]) -> Colour | None:
        colour = self._source_colour(source, leaf, left_out)
        if colour is None:
            return None
        alpha = colour.alpha * opacity * leaf.place.opacity
        return Colour(colour.hex, alpha) if alpha > 0 else None

    def _source_colour(self, source: PaintSource, leaf: Leaf, left_out: set[str]) -> Colour | None:
        plain = leaf.place.style.color if source.is_current else source.colour
        if source.server is None:
            return plain
        server = self.walker.target(source.server)
        if server is None:
            return plain
        if local_name(server) == "pattern":
            left_out.add("pattern")
            return plain
        if local_name(server) not in GRADIENTS:
            return plain
        if fits_bounding_box(server, self.document) and _is_flat(leaf.path):
            return plain
        return gradient_colour(server, self.document, self.cascade) or plain

    def _stroke(self, lines: list[Polyline], width: float, place: Place) -> Area:
        """Return a stroke's area on the page; a slanted nib is drawn upright and then slanted."""
        style, matrix = place.style, place.matrix
        if style.vector_effect == "non-scaling-stroke":
            return self._upright_stroke(lines, width, 1.0, place)
        if matrix.is_similarity:
            return self._upright_stroke(lines, width, matrix.scale, place)
        back = matrix.inverse()
        own = [Polyline(back.apply(line.points), line.joints, line.closed) for line in lines]
        return transform_area(self._upright_stroke(own, width, 1.0, place), matrix)

    def _upright_stroke(self, lines: list[Polyline], width: float, scale: float, place: Place) -> Area:
        """Return a stroke's area where the nib is a circle; `scale` is the lines' units in a user unit."""
        style, measures = place.style, place.measures
        nib = Nib(width * scale, style.stroke_linecap, style.stroke_linejoin, style.stroke_miterlimit)
        dashes = tuple(scale * to_px(length, Axis.BOTH, measures) for length in style.stroke_dasharray)
        offset = scale * to_px(style.stroke_dashoffset, Axis.BOTH, measures)
        if len(dashes) % 2:
            dashes *= 2
        if sum(dashes) > 0 and min(dashes) >= 0:
            lines = [dash for line in lines for dash in cut_dashes(line, dashes, offset)]
        return stroke_area(lines, nib, self.tolerance * scale / place.matrix.stretch)


def _is_closed(line: Polyline) -> bool:
    return line.closed or bool(line.points[0] == line.points[-1])


def _is_flat(path: Path) -> bool:
    points = curve_extremes(path)
    return bool(np.ptp(points.real) == 0 or np.ptp(points.imag) == 0)
