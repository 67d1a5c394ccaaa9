"""Lengths as people write them; the inch is 25.4 mm exactly (yard and pound agreement, 1959)."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from peekpaper.commands.options import size
from peekpaper.lengths import format_length, format_size_at_least, parse_length, refuse_no_length
from peekpaper.refusal import Refusal


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("8in", 203.2),
        ("1/8 in", 3.175),
        ('2 1/2"', 63.5),
        ("63.5mm", 63.5),
        ("6.35 cm", 63.5),
        ("2½ in", 63.5),
        ("2-1/2 inches", 63.5),
        (" 0,5 cm ", 5.0),
        (".5in", 12.7),
    ],
)
def test_a_length_is_read_in_the_ways_that_people_write_it(text: str, mm: float) -> None:
    assert math.isclose(parse_length(text), mm, rel_tol=1e-12)


def test_a_bare_number_takes_the_unit_of_the_field() -> None:
    assert parse_length("3", "in") == pytest.approx(76.2)
    assert parse_length("3", "mm") == 3.0


def test_a_distance_that_no_card_can_have_is_refused_by_its_name() -> None:
    with pytest.raises(Refusal, match="The lip can't be more than 5 m: give less"):
        refuse_no_length(1e308, "distance.lip")
    with pytest.raises(Refusal, match="The lip can't be less than zero: give 0 or more"):
        refuse_no_length(-0.1, "distance.lip")
    refuse_no_length(0.0, "distance.lip")


@pytest.mark.parametrize(
    "text", ["12x12in", "12x12″", '12x12"', "12 in × 12 in", "304.8x304.8mm", "30.48 cm x 12″"]
)
def test_a_size_is_read_in_the_ways_that_people_write_it(text: str) -> None:
    assert size(text) == pytest.approx((304.8, 304.8))


@pytest.mark.parametrize(
    "text",
    [
        "",
        "eight",
        "8 feet",
        "1/0 in",
        "1e400 mm",
        "3",
        "4 in 5",
        "--2 mm",
        "9" * 400 + "mm",
        "9" * 400 + " 1/2 in",
    ],
)
def test_what_is_no_length_is_refused_with_a_way_to_write_it(text: str) -> None:
    with pytest.raises(Refusal, match=r"length|divides"):
        parse_length(text)


@pytest.mark.parametrize("text", ["1,000 mm", "1.000 mm", "2,500mm"])
def test_a_mark_that_may_mean_thousands_or_decimals_is_asked_about(text: str) -> None:
    with pytest.raises(Refusal, match=r"may mean .* mm or .*000? mm|may mean 2.5 mm or 2500 mm"):
        parse_length(text)


@pytest.mark.parametrize(
    ("text", "mm"), [("0,125 in", 3.175), ("1.125 in", 28.575), ("1,5 mm", 1.5), ("12.700 mm", 12.7)]
)
def test_a_mark_that_can_mean_decimals_alone_is_read(text: str, mm: float) -> None:
    assert math.isclose(parse_length(text), mm)


@given(st.integers(0, 10_000))
def test_thirty_seconds_of_an_inch_survive_writing_and_reading(parts: int) -> None:
    mm = float(Fraction(parts, 32)) * 25.4
    assert math.isclose(parse_length(format_length(mm, "in")), mm, abs_tol=1e-9)


@pytest.mark.parametrize(
    ("mm", "inches", "millimetres"),
    [(32.6, "1 9/32 in", "32.6 mm"), (0.2, "0 in", "0.2 mm"), (-13.0, "-1/2 in", "-13 mm")],
)
def test_a_length_is_written_as_the_nearest_line_of_a_ruler(mm: float, inches: str, millimetres: str) -> None:
    assert (format_length(mm, "in"), format_length(mm, "mm")) == (inches, millimetres)


@given(st.floats(1, 600), st.floats(1, 600))
def test_a_size_to_cut_is_no_smaller_than_it_must_be(width: float, height: float) -> None:
    for unit, step in (("in", 25.4 / 32), ("mm", 0.1)):
        sides = format_size_at_least(width, height, unit).removesuffix(f" {unit}").split(" x ")
        for side, mm in zip(sides, (width, height), strict=True):
            assert -0.001 <= parse_length(side, unit) - mm < step
