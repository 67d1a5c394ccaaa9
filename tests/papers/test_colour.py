"""Colour differences and contrasts against published figures."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from peekpaper.papers.colour import Lab, contrast, difference, differences, lab_difference, label_colour

# Sharma, Wu and Dalal, "The CIEDE2000 color-difference formula: implementation notes, supplementary test
# data, and mathematical observations", Color Research and Application 30(1), 2005, table 1.
SHARMA_WU_DALAL = [
    ((50.0000, 2.6772, -79.7751), (50.0000, 0.0000, -82.7485), 2.0425),
    ((50.0000, 3.1571, -77.2803), (50.0000, 0.0000, -82.7485), 2.8615),
    ((50.0000, 2.8361, -74.0200), (50.0000, 0.0000, -82.7485), 3.4412),
    ((50.0000, -1.3802, -84.2814), (50.0000, 0.0000, -82.7485), 1.0000),
    ((50.0000, -1.1848, -84.8006), (50.0000, 0.0000, -82.7485), 1.0000),
    ((50.0000, -0.9009, -85.5211), (50.0000, 0.0000, -82.7485), 1.0000),
    ((50.0000, 0.0000, 0.0000), (50.0000, -1.0000, 2.0000), 2.3669),
    ((50.0000, -1.0000, 2.0000), (50.0000, 0.0000, 0.0000), 2.3669),
    ((50.0000, 2.4900, -0.0010), (50.0000, -2.4900, 0.0009), 7.1792),
    ((50.0000, 2.4900, -0.0010), (50.0000, -2.4900, 0.0010), 7.1792),
    ((50.0000, 2.4900, -0.0010), (50.0000, -2.4900, 0.0011), 7.2195),
    ((50.0000, 2.4900, -0.0010), (50.0000, -2.4900, 0.0012), 7.2195),
    ((50.0000, -0.0010, 2.4900), (50.0000, 0.0009, -2.4900), 4.8045),
    ((50.0000, -0.0010, 2.4900), (50.0000, 0.0010, -2.4900), 4.8045),
    ((50.0000, -0.0010, 2.4900), (50.0000, 0.0011, -2.4900), 4.7461),
    ((50.0000, 2.5000, 0.0000), (50.0000, 0.0000, -2.5000), 4.3065),
    ((50.0000, 2.5000, 0.0000), (73.0000, 25.0000, -18.0000), 27.1492),
    ((50.0000, 2.5000, 0.0000), (61.0000, -5.0000, 29.0000), 22.8977),
    ((50.0000, 2.5000, 0.0000), (56.0000, -27.0000, -3.0000), 31.9030),
    ((50.0000, 2.5000, 0.0000), (58.0000, 24.0000, 15.0000), 19.4535),
    ((50.0000, 2.5000, 0.0000), (50.0000, 3.1736, 0.5854), 1.0000),
    ((50.0000, 2.5000, 0.0000), (50.0000, 3.2972, 0.0000), 1.0000),
    ((50.0000, 2.5000, 0.0000), (50.0000, 1.8634, 0.5757), 1.0000),
    ((50.0000, 2.5000, 0.0000), (50.0000, 3.2592, 0.3350), 1.0000),
    ((60.2574, -34.0099, 36.2677), (60.4626, -34.1751, 39.4387), 1.2644),
    ((63.0109, -31.0961, -5.8663), (62.8187, -29.7946, -4.0864), 1.2630),
    ((61.2901, 3.7196, -5.3901), (61.4292, 2.2480, -4.9620), 1.8731),
    ((35.0831, -44.1164, 3.7933), (35.0232, -40.0716, 1.5901), 1.8645),
    ((22.7233, 20.0904, -46.6940), (23.0331, 14.9730, -42.5619), 2.0373),
    ((36.4612, 47.8580, 18.3852), (36.2715, 50.5065, 21.2231), 1.4146),
    ((90.8027, -2.0831, 1.4410), (91.1528, -1.6435, 0.0447), 1.4441),
    ((90.9257, -0.5406, -0.9208), (88.6381, -0.8985, -0.7239), 1.5381),
    ((6.7747, -0.2908, -2.4247), (5.8714, -0.0985, -2.2286), 0.6377),
    ((2.0776, 0.0795, -1.1350), (0.9033, -0.0636, -0.5514), 0.9082),
]

colours = st.from_regex(r"#[0-9a-f]{6}", fullmatch=True)


def test_the_published_table_has_34_pairs() -> None:
    assert len(SHARMA_WU_DALAL) == 34


@pytest.mark.parametrize(("first", "second", "published"), SHARMA_WU_DALAL)
def test_the_difference_is_the_published_one_to_four_decimals(
    first: Lab, second: Lab, published: float
) -> None:
    assert round(lab_difference(first, second), 4) == published


@given(colours, colours)
def test_a_difference_is_the_same_both_ways_and_none_to_itself(first: str, second: str) -> None:
    assert difference(first, second) == pytest.approx(difference(second, first), abs=1e-9)
    assert difference(first, first) == 0
    assert difference(first, second) >= 0


def test_the_matrix_holds_each_pair_in_both_places() -> None:
    shelf = ["#e9dfc9", "#2f4a73", "#b5523b"]
    matrix = differences(shelf)
    assert matrix.tolist() == [[difference(a, b) if a != b else 0 for b in shelf] for a in shelf]


def test_contrast_is_21_between_black_and_white_and_1_between_equals() -> None:
    # WCAG 2.1, definition of contrast ratio.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#4f9d8f", "#4f9d8f") == pytest.approx(1)


def test_the_grey_that_wcag_examples_take_as_the_border_of_legible_on_white() -> None:
    # #767676 on white is the lightest grey with 4.5:1 (from memory of WCAG teaching material: 4.54).
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)
    assert contrast("#777777", "#ffffff") < 4.5


@given(colours)
def test_a_label_reads_on_every_colour(background: str) -> None:
    assert contrast(label_colour(background), background) >= 4.5
