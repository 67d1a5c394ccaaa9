"""Colours of photos, and the papers that suit them."""

import numpy as np
import pytest
from coloraide import Color
from english import english
from hypothesis import given
from hypothesis import strategies as st
from made_designs import shelf_of
from numpy.typing import NDArray

from peekpaper.papers.colour import difference
from peekpaper.papers.colour_words import colour_words
from peekpaper.papers.main_colours import main_colours, plain_colour
from peekpaper.papers.paper import Shelf
from peekpaper.papers.photo import papers_for_photo
from peekpaper.pixels import lab_from_srgb
from peekpaper.refusal import Refusal


def stripes(*bands: tuple[str, int]) -> NDArray[np.uint8]:
    """A picture of upright bands of these colours, so many px wide each, with a little grain."""
    rows = [(*bytes.fromhex(colour[1:]), 255) for colour, width in bands for _ in range(width)]
    picture = np.tile(np.array(rows, dtype=np.int64), (120, 1, 1))
    picture[..., :3] += np.random.default_rng(1).integers(-3, 4, picture[..., :3].shape)
    return np.clip(picture, 0, 255).astype(np.uint8)


@given(st.lists(st.integers(0, 255), min_size=3, max_size=3))
def test_cielab_is_that_of_the_reference_library(values: list[int]) -> None:
    reference = Color("srgb", [value / 255 for value in values]).convert("lab-d65").coords()
    assert lab_from_srgb(np.array(values, dtype=np.uint8)) == pytest.approx(np.array(reference), abs=1e-3)


def test_a_pictures_main_colours_are_found_with_their_shares() -> None:
    found = main_colours(stripes(("#b5523b", 60), ("#2f4a73", 30), ("#e9dfc9", 10)), 3)
    expected = [("#b5523b", 0.6), ("#2f4a73", 0.3), ("#e9dfc9", 0.1)]
    assert [colour.share for colour in found] == pytest.approx([share for _, share in expected], abs=0.02)
    assert all(difference(a.colour, b) < 1 for a, (b, _) in zip(found, expected, strict=True))


def test_one_colour_is_one_colour_however_many_are_asked_for() -> None:
    flat = np.full((50, 50, 4), 255, dtype=np.uint8)
    assert [colour.colour for colour in main_colours(flat, 5)] == ["#ffffff"]


@given(st.integers(1, 30), st.integers(1, 30), st.integers(1, 6), st.integers(0, 9))
def test_shares_add_up_to_the_whole_picture(width: int, height: int, count: int, seed: int) -> None:
    picture = np.random.default_rng(seed).integers(0, 256, (height, width, 4)).astype(np.uint8)
    picture[..., 3] = 255
    found = main_colours(picture, count)
    assert 1 <= len(found) <= count
    assert sum(colour.share for colour in found) == pytest.approx(1)


def test_the_plain_colour_of_dots_is_their_ground() -> None:
    assert difference(plain_colour(stripes(("#e9dfc9", 80), ("#b5523b", 20))), "#e9dfc9") < 1


def test_the_plain_colour_of_a_motley_is_the_mean_of_its_light() -> None:
    motley = stripes(*((colour, 25) for colour in ("#ff0000", "#00ff00", "#0000ff", "#000000")))
    # A quarter of each: every channel has a quarter of its light, 0.25 -> sRGB 137 (IEC 61966-2-1).
    assert difference(plain_colour(motley), "#898989") < 5


def test_see_through_px_do_not_count() -> None:
    picture = stripes(("#b5523b", 50), ("#2f4a73", 50))
    picture[:, :50, 3] = 0
    assert difference(plain_colour(picture), "#2f4a73") < 1
    picture[..., 3] = 0
    assert main_colours(picture, 3) == ()
    assert plain_colour(picture) == "#ffffff"


def test_the_papers_that_pick_up_a_photo_come_in_the_order_of_its_colours() -> None:
    photo = stripes(("#2f4a73", 60), ("#b5523b", 40))
    shelf = shelf_of("#b04a3a", "#dddddd", "#30507a", "#208020")
    found = papers_for_photo(shelf, photo, 2)
    assert [paper.paper for paper in found] == ["p3", "p1"]
    assert english(found[0].reason) == "Paper 3 matches the blue that takes up 60\u00a0% of the photo."


def test_a_paper_is_named_once_even_if_it_is_the_nearest_to_two_colours() -> None:
    photo = stripes(("#2f4a73", 60), ("#5a8ad0", 40))
    found = papers_for_photo(shelf_of("#30507a", "#ffcc00"), photo, 2)
    assert sorted(paper.paper for paper in found) == ["p1", "p2"]
    assert "is the nearest on the shelf to" in english(found[1].reason)


def test_an_empty_shelf_no_papers_and_a_see_through_photo_are_refused() -> None:
    photo = stripes(("#2f4a73", 10))
    with pytest.raises(Refusal, match="add a paper first"):
        papers_for_photo(Shelf(), photo, 3)
    with pytest.raises(Refusal, match="one at least"):
        papers_for_photo(shelf_of("#ffffff"), photo, 0)
    with pytest.raises(Refusal, match="see-through"):
        papers_for_photo(shelf_of("#ffffff"), np.zeros((5, 5, 4), dtype=np.uint8), 3)


@pytest.mark.parametrize(
    ("colour", "words"),
    [
        ("#000000", "black"),
        ("#ffffff", "white"),
        ("#808080", "grey"),
        ("#ff0000", "red"),
        ("#00a000", "green"),
        ("#0000ff", "blue"),
        ("#001a66", "dark blue"),
        ("#ffff00", "yellow"),
        ("#ff8800", "orange"),
        ("#8b5a2b", "brown"),
        ("#fff3d0", "pale yellow"),
        ("#a8c8e8", "light blue"),
        ("#ffb6c8", "light pink"),
        ("#7a2a9a", "purple"),
        ("#2f8f8a", "blue-green"),
    ],
)
def test_colours_are_called_what_people_call_them(colour: str, words: str) -> None:
    assert english(colour_words(colour)) == words
