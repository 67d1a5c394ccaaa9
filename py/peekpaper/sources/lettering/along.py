"""The lines that words run along (SVG 2, 11.8)."""

import cmath
from bisect import bisect_right
from dataclasses import dataclass
from itertools import accumulate, pairwise
from xml.etree.ElementTree import Element

from peekpaper.drawing.css.css_lengths import Axis, Measures, parse_length, to_px
from peekpaper.drawing.file.document import link, local_name
from peekpaper.drawing.outlines.path import count_chords, flatten
from peekpaper.drawing.tree.shapes import SHAPES, shape_path
from peekpaper.drawing.tree.walk import Walker

_FINENESS = 2000
"""The line is cut in chords that stray by its size through this."""


@dataclass(frozen=True, slots=True)
class Along:
    """A line as a polyline, how far along it each of its points lies, and where on it words begin."""

    points: tuple[complex, ...]
    reached: tuple[float, ...]
    start: float

    def at(self, distance: float) -> tuple[complex, complex] | None:
        """Return the point so far along and the direction there, None beyond its ends."""
        if not 0 <= distance <= self.reached[-1]:
            return None
        index = min(bisect_right(self.reached, distance), len(self.points) - 1)
        before, after = self.points[index - 1], self.points[index]
        direction = (after - before) / abs(after - before)
        return before + direction * (distance - self.reached[index - 1]), direction


def line_of(text_path: Element, walker: Walker, measures: Measures) -> Along | None:
    """Return the line that a `textPath` names, the first of its pieces, None where there is none."""
    target = walker.target(link(text_path))
    name = local_name(target) if target is not None else None
    if target is None or name not in SHAPES:
        return None
    path, _ = shape_path(name, target, measures)
    if path is None or not len(path.curves) or not path.is_measurable:
        return None
    transform = walker.element_style(target, walker.inherited_style(target)).transform
    if transform is not None:
        path = path.transformed(transform)
    size = max(float(abs(path.curves - path.curves[0, 0]).max()), 1e-9)
    line = flatten(path, count_chords(path.curves, size / _FINENESS))[0].points.tolist()
    points = [line[0], *(after for before, after in pairwise(line) if after != before)]
    if len(points) < 2 or not all(map(cmath.isfinite, points)):
        return None
    reached = tuple(accumulate((abs(after - before) for before, after in pairwise(points)), initial=0.0))
    offset = parse_length(text_path.get("startOffset", ""))
    start = 0.0
    if offset is not None:
        start = reached[-1] * offset.amount / 100 if offset.unit == "%" else to_px(offset, Axis.X, measures)
    return Along(tuple(points), reached, start)
