"""From a shape in its place to the areas that its fill and its stroke cover on the page."""

from collections.abc import Hashable
from dataclasses import dataclass, field, replace

import numpy as np
import shapely
from numpy.typing import NDArray

from peekpaper.drawing.areas.arrangement import check_crossings
from peekpaper.drawing.areas.fill import fill_area
from peekpaper.drawing.areas.stroke import Nib, stroke_area
from peekpaper.drawing.areas.valid_areas import transform_area
from peekpaper.drawing.css.colour import Colour
from peekpaper.drawing.css.css_lengths import Axis, parse_length, to_px
from peekpaper.drawing.css.style import PaintSource
from peekpaper.drawing.drawing import Area, Contour, Paint, PaintedShape
from peekpaper.drawing.file.budget import Budget
from peekpaper.drawing.outlines.dashes import cut_dashes
from peekpaper.drawing.outlines.path import (
    MAX_COORDINATE,
    Path,
    Polyline,
    count_chords,
    curve_extremes,
    flatten,
)
from peekpaper.drawing.paint.clip import Clipper
from peekpaper.drawing.paint.paint_server import PaintServers
from peekpaper.drawing.tree.graphics_state import GraphicsState, Leaf

_FEW_POINTS = 300
"""A stroke of no more points is drawn without a look at how often it crosses itself."""


class UnreadableShapeError(Exception):
    """The numbers of a shape are beyond all measure."""


@dataclass(frozen=True, slots=True)
class _Drawn:
    """What a shape covers, before clips and colours.

    `count` is how many points its curves became, `crossings` how often its outlines cross.
    """

    fill: Area | None
    stroke: Area | None
    width: float
    contours: tuple[Contour, ...]
    count: int
    crossings: int

    def moved(self, x: float, y: float) -> "_Drawn":
        """Return the same elsewhere."""

        def move(points: NDArray[np.float64]) -> NDArray[np.float64]:
            return np.add(points, (x, y))

        fill = shapely.transform(self.fill, move) if self.fill is not None else None
        stroke = shapely.transform(self.stroke, move) if self.stroke is not None else None
        contours = tuple(Contour(shapely.transform(one.line, move), one.closed) for one in self.contours)
        return replace(self, fill=fill, stroke=stroke, contours=contours)


@dataclass(frozen=True, slots=True)
class Painter:
    """Paints the shapes of one file, with polylines within `tolerance` px of the curves.

    `repeated` keeps what a `use` or a marker draws again.
    """

    servers: PaintServers
    clipper: Clipper
    budget: Budget
    tolerance: float
    repeated: dict[Hashable, "_Drawn"] = field(default_factory=dict)

    def paint(self, leaf: Leaf) -> tuple[PaintedShape, ...]:
        """Return the painted shape, none for a hidden one, two where its stroke lies below its fill.

        Raises UnreadableShapeError for numbers beyond MAX_COORDINATE.
        """
        state, style = leaf.state, leaf.state.style
        if not state.is_visible:
            return ()
        fill_colour = self._colour(style.fill, style.fill_opacity, leaf)
        stroke_colour = self._colour(style.stroke, style.stroke_opacity, leaf)
        drawn = self._drawn(leaf, fill_colour is not None, stroke_colour is not None)
        fill = self._visible(drawn.fill, fill_colour, state)
        stroke = self._visible(drawn.stroke, stroke_colour, state)
        name = leaf.element.get("id")
        if fill is not None and stroke is not None and style.paint_order.startswith("stroke"):
            return (
                PaintedShape(None, stroke, drawn.width, drawn.contours, state.layer, name),
                PaintedShape(fill, None, 0.0, drawn.contours, state.layer, name),
            )
        return (PaintedShape(fill, stroke, drawn.width, drawn.contours, state.layer, name),)

    def _drawn(self, leaf: Leaf, has_fill: bool, has_stroke: bool) -> "_Drawn":
        """Return the areas of a shape; one that is drawn again elsewhere is moved there."""
        state = leaf.state
        if state.context is None:
            return self._draw(leaf, has_fill, has_stroke)
        # The walker keeps paths and styles of what is repeated, so that they can be told by identity.
        matrix = state.matrix._replace(e=0.0, f=0.0)
        key = (id(leaf.path), id(state.style), matrix, state.measures, has_fill, has_stroke)
        if key not in self.repeated:
            at_origin = replace(leaf, state=state._replace(matrix=matrix))
            self.repeated[key] = self._draw(at_origin, has_fill, has_stroke)
        drawn = self.repeated[key]
        self.budget.points(drawn.count)
        self.budget.crossings(drawn.crossings)
        return drawn.moved(state.matrix.e, state.matrix.f)

    def _draw(self, leaf: Leaf, has_fill: bool, has_stroke: bool) -> "_Drawn":
        state, style = leaf.state, leaf.state.style
        path = leaf.path.transformed(state.matrix)
        if not path.is_measurable:
            raise UnreadableShapeError
        chords = count_chords(path.curves, self.tolerance)
        count = int(chords.sum())
        self.budget.points(count)
        lines = flatten(path, chords)
        fill = stroke = None
        width, crossings = 0.0, 0
        if has_fill:
            fill = fill_area([line.points for line in lines], even_odd=style.fill_rule == "evenodd")
            crossings = max(0, int(shapely.get_num_coordinates(fill)) - 2 * count)
        if has_stroke:
            width = to_px(style.stroke_width, Axis.BOTH, state.measures)
            if width > 0:
                self.budget.stroke(count)
                if count > _FEW_POINTS:
                    crossings += check_crossings([line.points for line in lines])
                stroke = self._stroke(lines, width, leaf)
            width *= 1.0 if style.vector_effect == "non-scaling-stroke" else state.matrix.scale
        contours = tuple(contour for contour in map(_contour, lines) if contour is not None)
        self.budget.crossings(crossings)
        return _Drawn(fill, stroke, width, contours, count, crossings)

    def has_pattern(self, leaf: Leaf) -> bool:
        """Tell whether a pattern that would be seen is plain in what paint() returns for a shape."""
        state, style = leaf.state, leaf.state.style
        if not state.is_visible:
            return False
        filled = style.fill_opacity > 0 and self.servers.is_pattern(style.fill)
        return filled or (_has_stroke(leaf) and self.servers.is_pattern(style.stroke))

    def is_seen(self, leaf: Leaf) -> bool:
        """Tell whether a shape's own paints make anything of it seen."""
        if not leaf.state.is_visible:
            return False
        style = leaf.state.style
        if self._colour(style.fill, style.fill_opacity, leaf) is not None:
            return True
        return _has_stroke(leaf) and self._colour(style.stroke, style.stroke_opacity, leaf) is not None

    def _visible(self, area: Area | None, colour: Colour | None, state: GraphicsState) -> Paint | None:
        if area is None or colour is None:
            return None
        area = self.clipper.clip(area, state.clips)
        return Paint(area, colour.hex, colour.alpha) if not area.is_empty else None

    def _colour(self, source: PaintSource, opacity: float, leaf: Leaf) -> Colour | None:
        is_flat = source.server is not None and _is_flat(leaf.path)
        colour = self.servers.colour(source, leaf.state, is_flat=is_flat)
        if colour is None:
            return None
        alpha = colour.alpha * opacity * leaf.state.opacity
        return Colour(colour.hex, alpha) if alpha > 0 else None

    def _stroke(self, lines: list[Polyline], width: float, leaf: Leaf) -> Area:
        """Return a stroke's area on the page; a slanted nib is drawn upright and then slanted."""
        matrix = leaf.state.matrix
        if leaf.state.style.vector_effect == "non-scaling-stroke":
            return self._upright_stroke(lines, width, 1.0, self.tolerance, leaf)
        if matrix.is_similarity:
            return self._upright_stroke(lines, width, matrix.scale, self.tolerance, leaf)
        back = matrix.inverse()
        own = [Polyline(back.apply(line.points), line.joints, line.closed) for line in lines]
        area = self._upright_stroke(own, width, 1.0, self.tolerance / matrix.stretch, leaf)
        return transform_area(area, matrix)

    def _upright_stroke(
        self, lines: list[Polyline], width: float, scale: float, tolerance: float, leaf: Leaf
    ) -> Area:
        """Return a stroke's area where the nib is a circle; `scale` is the lines' units in a user unit."""
        style, measures = leaf.state.style, leaf.state.measures
        nib = Nib(width * scale, style.stroke_linecap, style.stroke_linejoin, style.stroke_miterlimit)
        if not 0 < nib.width < MAX_COORDINATE:
            raise UnreadableShapeError
        dashes = tuple(to_px(length, Axis.BOTH, measures) for length in style.stroke_dasharray)
        if dashes and min(dashes) >= 0 and 0 < sum(dashes) < MAX_COORDINATE:
            factor = scale * _dash_factor(leaf, lines, scale)
            offset = to_px(style.stroke_dashoffset, Axis.BOTH, measures)
            lines = self._dash(lines, [dash * factor for dash in dashes], offset * factor)
        return stroke_area(lines, nib, tolerance)

    def _dash(self, lines: list[Polyline], dashes: list[float], offset: float) -> list[Polyline]:
        pattern = dashes if len(dashes) % 2 == 0 else [*dashes, *dashes]
        self.budget.dashes(sum(_length(line) for line in lines) / sum(pattern) * len(pattern) / 2)
        return [dash for line in lines for dash in cut_dashes(line, pattern, offset)]


def _dash_factor(leaf: Leaf, lines: list[Polyline], scale: float) -> float:
    """Return by how much `pathLength` makes dashes longer (SVG 2, 9.6.1)."""
    stated = parse_length(leaf.element.get("pathLength", ""))
    length = sum(map(_length, lines)) / scale
    return length / stated.amount if stated is not None and stated.amount > 0 and length > 0 else 1.0


def _length(line: Polyline) -> float:
    return float(np.abs(np.diff(line.points)).sum())


def _contour(line: Polyline) -> Contour | None:
    points = line.points
    if not (points != points[0]).any():
        return None
    outline = shapely.LineString(np.column_stack((points.real, points.imag)))
    return Contour(outline, line.closed or bool(points[0] == points[-1]))


def _is_flat(path: Path) -> bool:
    points = curve_extremes(path)
    return bool(np.ptp(points.real) == 0 or np.ptp(points.imag) == 0)


def _has_stroke(leaf: Leaf) -> bool:
    style = leaf.state.style
    return style.stroke_opacity > 0 and to_px(style.stroke_width, Axis.BOTH, leaf.state.measures) > 0
