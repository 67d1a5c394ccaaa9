"""Elliptical arcs as cubic curves."""

import cmath
import math
from typing import NamedTuple

from peekpaper.drawing.outlines.path import Cubic, line

_STEP = math.pi / 6
"""Arcs become cubics of at most 30 degrees, which stay within 4e-7 of the radius."""


class Ellipse(NamedTuple):
    """An ellipse by its centre, its radii and the angle of its x axis, in radians, clockwise on screen."""

    centre: complex
    rx: float
    ry: float
    turn: float = 0.0

    def curves(self, start: float, sweep: float) -> list[Cubic]:
        """Return cubics from the angle `start` over the angle `sweep`, in radians.

        The handles' length 4/3 tan(step/4) is the usual one (Goldapp 1991, "Approximation of circular arcs by
        cubic polynomials").
        """
        count = max(1, math.ceil(abs(sweep) / _STEP - 1e-9))
        step = sweep / count
        handle = 4 / 3 * math.tan(step / 4)
        axis = cmath.rect(1, self.turn)
        curves = []
        for i in range(count):
            a, b = cmath.rect(1, start + i * step), cmath.rect(1, start + (i + 1) * step)
            units = (a, a + 1j * handle * a, b - 1j * handle * b, b)
            p0, p1, p2, p3 = (self.centre + axis * complex(self.rx * u.real, self.ry * u.imag) for u in units)
            curves.append((p0, p1, p2, p3))
        return curves


class ArcTo(NamedTuple):
    """An elliptical arc as path data give it: `degrees` turns its x axis, the flags choose among four."""

    rx: float
    ry: float
    degrees: float
    is_large: bool
    is_clockwise: bool
    end: complex


def arc_curves(start: complex, arc: ArcTo) -> list[Cubic]:
    """Return cubics along an arc that begins at `start`.

    Out-of-range radii are mended and the centre found as SVG 1.1 tells (appendices F.6.5 and F.6.6).
    Returns a straight segment where a radius is 0 or a number is beyond what can be computed with, and one
    of no length where it ends at `start`: it shows by its caps, as in the renderers.
    """
    if start == arc.end:
        return [line(start, start)]
    rx, ry, end = abs(arc.rx), abs(arc.ry), arc.end
    if rx == 0 or ry == 0 or not math.isfinite(arc.degrees):
        return [line(start, end)]
    turn = math.radians(arc.degrees % 360)
    half = (start - end) / 2 * cmath.rect(1, -turn)
    reach = math.hypot(half.real / rx, half.imag / ry)
    if not all(map(math.isfinite, (reach * rx, reach * ry, half.real, half.imag))) or reach < 1e-150:
        return [line(start, end)]
    if reach > 1:
        rx, ry, reach = rx * reach, ry * reach, 1.0
    side = -1 if arc.is_large == arc.is_clockwise else 1
    factor = side * math.sqrt(max(0.0, 1 / (reach * reach) - 1))
    inner = factor * complex(rx * half.imag / ry, -ry * half.real / rx)
    first = cmath.phase(complex((half - inner).real / rx, (half - inner).imag / ry))
    last = cmath.phase(complex((-half - inner).real / rx, (-half - inner).imag / ry))
    sweep = (last - first) % math.tau
    if not math.isfinite(sweep):
        return [line(start, end)]
    if not arc.is_clockwise and sweep > 0:
        sweep -= math.tau
    centre = inner * cmath.rect(1, turn) + (start + end) / 2
    curves = Ellipse(centre, rx, ry, turn).curves(first, sweep)
    curves[0] = (start, *curves[0][1:])
    curves[-1] = (*curves[-1][:3], end)
    return curves
