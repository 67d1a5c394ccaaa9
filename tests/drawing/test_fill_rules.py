"""Fill rules: SVG 1.1, 11.3; the reference for random outlines is a count of crossings, point by point."""

import numpy as np
import pytest
import shapely
from drawn import ink_of, is_painted
from hypothesis import given, settings
from hypothesis import strategies as st

from peekpaper.drawing.areas.arrangement import TangledError
from peekpaper.drawing.areas.fill import fill_area

# Few places, so that corners and edges often fall on one another.
corners = st.lists(st.tuples(st.integers(0, 8), st.integers(0, 8)), min_size=3, max_size=9)


@pytest.mark.parametrize(("rule", "has_core"), [("nonzero", True), ("evenodd", False)])
def test_a_five_pointed_star_in_one_stroke(rule: str, has_core: bool) -> None:
    star = f'<path fill-rule="{rule}" d="M50 5 79 95 3 39 97 39 21 95z"/>'
    assert is_painted(ink_of(star), 50, 55) is has_core
    assert is_painted(ink_of(star), 50, 15)


@pytest.mark.parametrize(
    ("inner", "rule", "has_hole"),
    [
        ("M30 30h40v40h-40z", "nonzero", False),
        ("M30 30v40h40v-40z", "nonzero", True),
        ("M30 30h40v40h-40z", "evenodd", True),
        ("M30 30v40h40v-40z", "evenodd", True),
    ],
)
def test_a_frame(inner: str, rule: str, has_hole: bool) -> None:
    frame = ink_of(f'<path fill-rule="{rule}" d="M10 10h80v80h-80z{inner}"/>')
    assert is_painted(frame, 50, 50) is not has_hole
    assert frame.area == pytest.approx(6400 - 1600 * has_hole)


def test_rings_in_rings_alternate() -> None:
    rings = "".join(f"M{50 - r} {50 - r}h{2 * r}v{2 * r}h{-2 * r}z" for r in (40, 30, 20, 10))
    area = ink_of(f'<path fill-rule="evenodd" d="{rings}"/>').area
    assert area == pytest.approx(80**2 - 60**2 + 40**2 - 20**2)


def test_open_subpaths_are_closed_for_filling() -> None:
    assert ink_of('<polyline points="0,0 10,0 10,10"/>').area == pytest.approx(50)


def test_a_doubled_outline_is_filled_once_or_not_at_all() -> None:
    square = "M10 10h20v20h-20z"
    assert ink_of(f'<path d="{square}{square}"/>').area == pytest.approx(400)
    assert ink_of(f'<path fill-rule="evenodd" d="{square}{square}"/>').is_empty


@settings(max_examples=200)
@given(st.lists(corners, min_size=1, max_size=4), st.booleans())
def test_random_outlines_are_filled_where_the_crossings_say_so(
    outlines: list[list[tuple[int, int]]], even_odd: bool
) -> None:
    rings = [np.array([complex(x, y) for x, y in outline]) for outline in outlines]
    area = fill_area(rings, even_odd=even_odd)
    assert area.is_valid
    chance = np.random.default_rng(5)
    for x, y in chance.uniform(-1, 9, (60, 2)):
        winding, crossings = _count(rings, x, y)
        expected = bool(crossings % 2 == 1 if even_odd else winding != 0)
        assert is_painted(area, x, y) is expected


def _count(rings: list[np.ndarray], x: float, y: float) -> tuple[int, int]:  # type: ignore[type-arg]
    """How often the outlines run around a point, and how often a ray to the right crosses them."""
    winding = crossings = 0
    for ring in rings:
        for a, b in zip(ring, np.roll(ring, -1), strict=True):
            if (a.imag <= y) != (b.imag <= y):
                at = a.real + (y - a.imag) / (b.imag - a.imag) * (b.real - a.real)
                crossings += int(at > x)
                winding += (1 if b.imag > a.imag else -1) * int(at > x)
    return winding, crossings


def test_outlines_tangled_beyond_measure_are_told_apart() -> None:
    chance = np.random.default_rng(1)
    tangle = chance.uniform(0, 100, 4000) + 1j * chance.uniform(0, 100, 4000)
    with pytest.raises(TangledError):
        fill_area([tangle], even_odd=True)


def test_many_touching_squares_make_one_area() -> None:
    squares = "".join(f"M{x} {y}h10v10h-10z" for x in range(0, 100, 10) for y in range(0, 100, 10))
    assert shapely.equals(ink_of(f'<path d="{squares}"/>'), shapely.box(0, 0, 100, 100))
