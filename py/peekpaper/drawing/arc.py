"""Elliptical arcs as cubic curves."""

import cmath
import math

from peekpaper.drawing.path import Cubic, line

_STEP = math.pi / 6
"""Arcs become cubics of at most 30 degrees, which stay within 4e-7 of the radius."""


def ellipse_curves(
    centre: complex, rx: float, ry: float, turn: float, start: float, sweep: float
) -> list[Cubic]:
    """Return cubics along the ellipse from the angle `start` over the angle `sweep`.

    `turn` is the angle of its x axis; all angles in radians, clockwise on screen. The handles' length
    4/3 tan(step/4) is the usual one (Goldapp 1991, "Approximation of circular arcs by cubic polynomials").
    """
    count = max(1, math.ceil(abs(sweep) / _STEP - 1e-9))
    step = sweep / count
    handle = 4 / 3 * math.tan(step / 4)
    axis = cmath.rect(1, turn)
    curves = []
    for i in range(count):
        a, b = cmath.rect(1, start + i * step), cmath.rect(1, start + (i + 1) * step)
        units = (a, a + 1j * handle * a, b - 1j * handle * b, b)
        p0, p1, p2, p3 = (centre + axis * complex(rx * u.real, ry * u.imag) for u in units)
        curves.append((p0, p1, p2, p3))
    return curves


def arc_curves(
    start: complex, rx: float, ry: float, degrees: float, large: bool, sweep: bool, end: complex
) -> list[Cubic]:
    """Return cubics along an elliptical arc between two points.

    Out-of-range radii are mended and the centre found as SVG 1.1 tells (appendices F.6.5 and F.6.6).
    Returns nothing where `start` equals `end`, and a straight segment where a radius is 0 or a number is
    beyond what can be computed with.
    """
    if start == end:
        return []
    rx, ry = abs(rx), abs(ry)
    if rx == 0 or ry == 0:
        return [line(start, end)]
    turn = math.radians(degrees % 360)
    half = (start - end) / 2 * cmath.rect(1, -turn)
    reach = math.hypot(half.real / rx, half.imag / ry)
    if not all(map(math.isfinite, (reach * rx, reach * ry, turn, half.real, half.imag))) or reach == 0:
        return [line(start, end)]
    if reach > 1:
        rx, ry, reach = rx * reach, ry * reach, 1.0
    factor = math.sqrt(max(0.0, 1 / (reach * reach) - 1)) * (-1 if large == sweep else 1)
    inner = factor * complex(rx * half.imag / ry, -ry * half.real / rx)
    centre = inner * cmath.rect(1, turn) + (start + end) / 2
    first = cmath.phase(complex((half - inner).real / rx, (half - inner).imag / ry))
    last = cmath.phase(complex((-half - inner).real / rx, (-half - inner).imag / ry))
    angle = (last - first) % math.tau
    if not sweep and angle > 0:
        angle -= math.tau
    curves = ellipse_curves(centre, rx, ry, turn, first, angle)
    curves[0] = (start, *curves[0][1:])
    curves[-1] = (*curves[-1][:3], end)
    return curves
