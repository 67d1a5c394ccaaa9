"""The shapes that the harbour panel is made of, in hundredths of an inch."""

import cmath
from collections.abc import Iterable

from peekpaper.demo.pen import Arc, Curve, Line, Outline, Side


def circle(centre: complex, radius: float) -> Outline:
    """Return a circle in two half turns."""
    return Outline(centre - radius, (Arc(centre + radius, radius), Arc(centre - radius, radius)))


def polygon(points: Iterable[complex]) -> Outline:
    """Return straight sides through `points`."""
    first, *others = points
    return Outline(first, tuple(Line(point) for point in others))


def rectangle(left: float, top: float, width: float, height: float) -> Outline:
    """Return an upright rectangle with sharp corners."""
    corner = complex(left, top)
    return polygon((corner, corner + width, corner + complex(width, height), corner + complex(0, height)))


def rounded_rectangle(left: float, top: float, width: float, height: float, radius: float) -> Outline:
    """Return an upright rectangle with round corners."""
    right, bottom = left + width, top + height
    return Outline(
        complex(left + radius, top),
        (
            Line(complex(right - radius, top)),
            Arc(complex(right, top + radius), radius),
            Line(complex(right, bottom - radius)),
            Arc(complex(right - radius, bottom), radius),
            Line(complex(left + radius, bottom)),
            Arc(complex(left, bottom - radius), radius),
            Line(complex(left, top + radius)),
            Arc(complex(left + radius, top), radius),
        ),
    )


def star(centre: complex, radius: float, points: int = 5, waist: float = 0.46) -> Outline:
    """Return a star with one point straight up; `waist` is the inner radius over the outer."""
    turn = cmath.pi / points
    return polygon(
        centre + cmath.rect(radius if i % 2 == 0 else radius * waist, -cmath.pi / 2 + i * turn)
        for i in range(2 * points)
    )


def ray(centre: complex, near: float, far: float, half_width: float) -> Outline:
    """Return a sunray straight up from `centre`: round at the near end, drawn to a soft point."""
    base, tip = centre - near * 1j, centre - far * 1j
    swell = (far - near) * 0.45
    return Outline(
        base - half_width,
        (
            Curve(base - half_width - swell * 1j, tip - half_width * 0.4 + swell * 0.6j, tip),
            Curve(tip + half_width * 0.4 + swell * 0.6j, base + half_width - swell * 1j, base + half_width),
            Arc(base - half_width, near + half_width, clockwise=False),
        ),
    )


def gull(centre: complex, span: float) -> Outline:
    """Return a gull in flight, wings spread over `span`."""

    def at(x: float, y: float) -> complex:
        return centre + complex(x, y) * span / 100

    sides: tuple[Side, ...] = (
        Curve(at(-38, -26), at(-13, -26), at(0, 0)),
        Curve(at(13, -26), at(38, -26), at(50, -4)),
        Curve(at(34, -12), at(16, -6), at(0, 16)),
        Curve(at(-16, -6), at(-34, -12), at(-50, -4)),
    )
    return Outline(at(-50, -4), sides)
