"""Path data: SVG 1.1, chapter 8.3 (grammar and commands), appendices F.2 (errors) and F.6 (arcs)."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from peekpaper.drawing.outlines.arc import ArcTo, Ellipse, arc_curves
from peekpaper.drawing.outlines.path import Subpath, count_chords, flatten, make_path
from peekpaper.drawing.outlines.path_data import read_path_data

numbers = st.floats(-1000, 1000, allow_nan=False).map(lambda number: round(number, 3))
points = st.builds(complex, numbers, numbers)


def outline(data: str, tolerance: float = 0.001) -> list[list[complex]]:
    path, _ = read_path_data(data)
    lines = flatten(path, count_chords(path.curves, tolerance))
    return [[complex(point) for point in line.points] for line in lines]


def is_whole(data: str) -> bool:
    return read_path_data(data)[1]


@pytest.mark.parametrize(
    ("short", "long"),
    [
        ("M10-20L30.5.5", "M 10 -20 L 30.5 0.5"),
        ("M1e1-2E1l+3.5e-1 4", "M 10 -20 L 10.35 -16"),
        ("M10 20 30 40 50 60", "M 10 20 L 30 40 L 50 60"),
        ("m10 20 30 40zm5 5 1 1", "M 10 20 L 40 60 Z M 15 25 L 16 26"),
        ("M0 0h10v10H5V5", "M 0 0 L 10 0 L 10 10 L 5 10 L 5 5"),
        ("M0 0H1 2 3", "M 0 0 L 1 0 L 2 0 L 3 0"),
        ("M0 0L10 0 10 10zL5 5", "M 0 0 L 10 0 L 10 10 Z M 0 0 L 5 5"),
        ("M,10", ""),
        ("M0 0a5 5 0 0110 0", "M 0 0 A 5 5 0 0 1 10 0"),
        ("M0 0a5 5 0 1,010-.5", "M 0 0 A 5 5 0 1 0 10 -0.5"),
        ("M0 0Q5 10 10 0T20 0", "M 0 0 Q 5 10 10 0 Q 15 -10 20 0"),
        ("M0 0C0 5 10 5 10 0S20-5 20 0", "M 0 0 C 0 5 10 5 10 0 C 10 -5 20 -5 20 0"),
        ("M0 0L5 5T20 0", "M 0 0 L 5 5 L 20 0"),
        ("M0 0L5 5S9 9 20 0", "M 0 0 L 5 5 C 5 5 9 9 20 0"),
    ],
)
def test_short_forms_draw_what_the_long_ones_draw(short: str, long: str) -> None:
    drawn, meant = outline(short), outline(long)
    assert len(drawn) == len(meant)
    for ours, theirs in zip(drawn, meant, strict=True):
        # A line may be written as a curve: then it has more points, all on it.
        assert np.allclose((ours[0], ours[-1]), (theirs[0], theirs[-1]))
        assert len(ours) != len(theirs) or np.allclose(ours, theirs)


@pytest.mark.parametrize(
    ("broken", "drawn"),
    [
        ("M0 0L10 10 20", "M0 0L10 10"),
        ("M0 0L10 10 x 20 20", "M0 0L10 10"),
        ("M0 0L10 10#L20 20", "M0 0L10 10"),
        ("M0 0L10 10 L", "M0 0L10 10"),
        ("M0 0L10 10A5 5 0 2 0 20 20", "M0 0L10 10"),
        ("M0 0L10 10A5 5 0 -1 0 20 20", "M0 0L10 10"),
        ("M0 0L10 10Z5L20 20", "M0 0L10 10Z"),
        ("M0 0C1 1 2 2 3 3 4 4", "M0 0C1 1 2 2 3 3"),
        ("M0 0L10 10\N{NO-BREAK SPACE}L20 20", "M0 0L10 10"),
        ("L10 10", ""),
        ("10 10", ""),
        ("Z", ""),
    ],
)
def test_after_an_error_the_path_is_drawn_up_to_it(broken: str, drawn: str) -> None:
    assert not is_whole(broken)
    assert outline(broken) == outline(drawn)


@pytest.mark.parametrize("data", ["", " \t\n", "M5 5", "m5 5 m1 1"])
def test_moves_alone_draw_nothing_and_are_no_error(data: str) -> None:
    assert is_whole(data)
    assert outline(data) == []


def test_a_quarter_less_pie_of_the_standard_has_three_quarters_of_the_disc() -> None:
    # SVG 1.1, figure arcs01: M300,200 h-150 a150,150 0 1,0 150,-150 z
    (points,) = outline("M300,200 h-150 a150,150 0 1,0 150,-150 z")
    area = abs(sum((a.conjugate() * b).imag for a, b in pairwise(points))) / 2
    assert area == pytest.approx(0.75 * math.pi * 150**2, rel=1e-5)


@pytest.mark.parametrize("large", [False, True])
@pytest.mark.parametrize("sweep", [False, True])
def test_flags_choose_among_the_four_arcs(large: bool, sweep: bool) -> None:
    # SVG 1.1, figure arcs02, on unit circles: both through 0 and 1+i, centred at 1 and at i.
    curves = np.array(arc_curves(0j, ArcTo(1, 1, 0, large, sweep, 1 + 1j)))
    centre = next(c for c in (1 + 0j, 1j) if np.allclose(np.abs(curves[:, 3] - c), 1))
    spokes = np.append(curves[:, 0], curves[-1, 3]) - centre
    turn = float(np.angle(spokes[1:] / spokes[:-1]).sum())
    assert turn == pytest.approx((1 if sweep else -1) * (1.5 if large else 0.5) * math.pi)


@given(points, points, st.floats(0.1, 500), st.floats(0.1, 500), numbers, st.booleans(), st.booleans())
def test_arcs_reach_their_end_and_stay_on_one_ellipse(
    start: complex, end: complex, rx: float, ry: float, degrees: float, large: bool, sweep: bool
) -> None:
    curves = arc_curves(start, ArcTo(rx, ry, degrees, large, sweep, end))
    if abs(start - end) < 0.01:
        return
    assert (curves[0][0], curves[-1][3]) == (start, end)
    # Appendix F.6.6: radii that are too small are scaled up until there is just one solution.
    turn = np.exp(-1j * math.radians(degrees))
    half = (start - end) / 2 * turn
    grown = max(1.0, math.hypot(half.real / rx, half.imag / ry))
    line = flatten(make_path([Subpath(curves, [False] * len(curves), closed=False)]), np.full(len(curves), 8))
    round_ones = line[0].points * turn
    round_ones = round_ones.real / (rx * grown) + 1j * round_ones.imag / (ry * grown)
    quarter = len(round_ones) // 3
    a, b, c = round_ones[0], round_ones[quarter], round_ones[2 * quarter]
    if abs(((b - a).conjugate() * (c - a)).imag) < 1e-3:
        return  # three points in a row tell no circle
    assert abs(1 - _circle_radius(a, b, c)) < 1e-3


def _circle_radius(a: complex, b: complex, c: complex) -> float:
    doubled = abs(((b - a).conjugate() * (c - a)).imag)
    return abs(b - a) * abs(c - b) * abs(a - c) / (2 * doubled)


@given(points, points, points, points, st.sampled_from([0.5, 0.05, 0.005]))
def test_chords_stay_within_the_tolerance_of_their_curve(
    p0: complex, p1: complex, p2: complex, p3: complex, tolerance: float
) -> None:
    path = make_path([Subpath([(p0, p1, p2, p3)], [True], closed=False)])
    chords = count_chords(path.curves, tolerance)
    coarse, fine = flatten(path, chords)[0].points, flatten(path, 8 * chords)[0].points
    for i in range(0, len(fine) - 1, 8):
        a, b = coarse[i // 8], coarse[i // 8 + 1]
        t = np.arange(9) / 8
        assert np.abs(a + (b - a) * t - fine[i : i + 9]).max() <= tolerance * 1.001


def test_circles_are_round() -> None:
    curves = Ellipse(50 + 50j, 1000, 1000).curves(0, math.tau)
    path = make_path([Subpath(curves, [False] * len(curves), closed=True)])
    points = flatten(path, np.full(len(curves), 50))[0].points
    assert np.abs(np.abs(points - (50 + 50j)) - 1000).max() < 0.001
