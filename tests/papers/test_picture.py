"""Squaring up photos, against OpenCV as an independent reference (opencv-python-headless, dev only)."""

import cv2
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from peekpaper.geometry.projective import projection, refuse_bad_corners
from peekpaper.papers.picture import shrunk, square_up, squared_size
from peekpaper.pixels import rgba_array
from peekpaper.refusal import Refusal

CORNERS = [(120.0, 80.0), (690.0, 130.0), (640.0, 560.0), (60.0, 500.0)]

near = st.floats(-60, 60)


@st.composite
def quadrilaterals(draw: st.DrawFn) -> list[tuple[float, float]]:
    return [(x + draw(near), y + draw(near)) for x, y in ((100, 100), (700, 100), (700, 500), (100, 500))]


def smooth_picture(width: int = 800, height: int = 600) -> NDArray[np.uint8]:
    """A picture whose colours change slowly, so that resampling can be compared px by px."""
    y, x = np.mgrid[0:height, 0:width]
    channels = [128 + 100 * np.sin(x / 40), 128 + 100 * np.cos(y / 35), 128 + 60 * np.sin((x + y) / 50)]
    return np.stack([*channels, np.full_like(channels[0], 255)], axis=2).astype(np.uint8)


def marked_picture(points: NDArray[np.float64], width: int = 800, height: int = 600) -> NDArray[np.uint8]:
    """White, with a soft black dot at each point (px, edges at whole numbers)."""
    y, x = np.mgrid[0:height, 0:width] + 0.5
    dark = sum(np.exp(-((x - px) ** 2 + (y - py) ** 2) / 18) for px, py in points)
    grey = (255 - 255 * np.clip(dark, 0, 1)).astype(np.uint8)
    return np.dstack([grey, grey, grey, np.full_like(grey, 255)])


@given(quadrilaterals())
def test_the_projective_map_is_that_of_the_reference(corners: list[tuple[float, float]]) -> None:
    upright = [(0, 0), (600, 0), (600, 400), (0, 400)]
    reference = cv2.getPerspectiveTransform(np.float32(upright), np.float32(corners))
    ours = projection(upright, corners)
    points = np.random.default_rng(1).uniform(0, 400, (50, 1, 2))
    theirs = cv2.perspectiveTransform(points, reference)
    assert np.abs(cv2.perspectiveTransform(points, ours) - theirs).max() < 0.01


@given(quadrilaterals())
def test_corners_go_to_corners(corners: list[tuple[float, float]]) -> None:
    upright = [(0, 0), (600, 0), (600, 400), (0, 400)]
    matrix = projection(corners, upright)
    mapped = np.array([[x, y, 1] for x, y in corners]) @ matrix.T
    assert mapped[:, :2] / mapped[:, 2:] == pytest.approx(np.array(upright), abs=1e-6)


def test_what_lies_at_a_place_on_the_paper_comes_to_that_place_under_a_pixel() -> None:
    width, height = 600, 450
    places = np.array([[x, y] for x in (80, 300, 520) for y in (70, 225, 380)], dtype=np.float64)
    onto_photo = cv2.getPerspectiveTransform(
        np.float32([(0, 0), (width, 0), (width, height), (0, height)]), np.float32(CORNERS)
    )
    photo = marked_picture(cv2.perspectiveTransform(places[:, None], onto_photo)[:, 0])
    squared = square_up(photo, CORNERS, width, height)
    y, x = np.mgrid[0:height, 0:width] + 0.5
    for px, py in places:
        weight = (255.0 - squared[..., 0]) * (np.hypot(x - px, y - py) < 25)
        found = (weight * x).sum() / weight.sum(), (weight * y).sum() / weight.sum()
        assert np.hypot(found[0] - px, found[1] - py) < 0.2


def test_the_squared_picture_is_that_of_the_reference() -> None:
    width, height = 600, 450
    photo = smooth_picture()
    # OpenCV counts px at their centres, Peekpaper at their edges: half a px each way.
    half_in, half_out = (
        np.float64([[1, 0, -0.5], [0, 1, -0.5], [0, 0, 1]]),
        np.float64([[1, 0, 0.5], [0, 1, 0.5], [0, 0, 1]]),
    )
    matrix = projection([(0, 0), (width, 0), (width, height), (0, height)], CORNERS)
    theirs = cv2.warpPerspective(
        photo, half_in @ matrix @ half_out, (width, height), flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
    )
    difference = np.abs(square_up(photo, CORNERS, width, height).astype(int) - theirs.astype(int))
    assert difference.max() <= 4
    assert difference.mean() < 0.6


def test_a_picture_squared_to_itself_stays_as_it_is() -> None:
    photo = smooth_picture(300, 200)
    assert (square_up(photo, [(0, 0), (300, 0), (300, 200), (0, 200)], 300, 200) == photo).all()


def test_fine_stripes_become_their_mean_where_the_result_is_smaller() -> None:
    stripes = np.full((900, 900, 4), 255, dtype=np.uint8)
    stripes[:, ::2, :3] = 0
    squared = square_up(stripes, [(0, 0), (900, 0), (900, 900), (0, 900)], 100, 100)
    assert np.abs(squared[..., 0].astype(int) - 127).max() <= 15


def test_shrinking_averages_as_the_reference_does() -> None:
    photo = smooth_picture()
    theirs = cv2.resize(photo, (200, 150), interpolation=cv2.INTER_AREA)
    assert np.abs(shrunk(photo, 4).astype(int) - theirs.astype(int)).max() <= 1


@pytest.mark.parametrize(
    ("corners", "sentence"),
    [
        ([(0, 0), (100, 0), (0, 100), (100, 100)], "crossed"),
        ([(100, 0), (0, 0), (0, 100), (100, 100)], "crossed"),
        ([(0, 0), (50, 0), (100, 0), (50, 90)], "on one line"),
        ([(0, 0), (0, 0), (100, 100), (0, 100)], "on one line"),
        ([(0, 0), (100, 0), (30, 30), (0, 100)], "crossed"),
        ([(0, 0), (100, 0), (100, 100)], "four corners"),
        ([(0, 0), (float("nan"), 0), (100, 100), (0, 100)], "four corners"),
        ([(0, 0), (5000, 0), (100, 100), (0, 100)], "far outside"),
    ],
)
def test_corners_that_enclose_no_paper_are_refused(corners: list[tuple[float, float]], sentence: str) -> None:
    with pytest.raises(Refusal, match=sentence):
        square_up(smooth_picture(120, 120), corners, 50, 50)


@given(st.lists(st.tuples(st.floats(-200, 400), st.floats(-200, 400)), min_size=4, max_size=4))
def test_any_four_points_that_are_not_refused_give_a_picture(corners: list[tuple[float, float]]) -> None:
    try:
        refuse_bad_corners(corners, 200, 200)
    except Refusal:
        return
    assert square_up(smooth_picture(200, 200), corners, 40, 30).shape == (30, 40, 4)


def test_the_squared_picture_keeps_the_papers_proportions_and_the_photos_detail() -> None:
    assert squared_size([(0, 0), (600, 0), (600, 300), (0, 300)], 304.8, 152.4) == (600, 300)
    assert squared_size([(0, 0), (600, 0), (600, 590), (0, 590)], 210, 297) == (600, 849)
    assert squared_size([(0, 0), (9000, 0), (9000, 5000), (0, 5000)], 304.8, 304.8) == (2048, 2048)


def test_a_picture_of_more_than_50_megapixels_or_none_is_refused() -> None:
    with pytest.raises(Refusal, match="51 megapixels, and 50 are the most: make it smaller"):
        rgba_array(b"", 10_200, 5_000)
    with pytest.raises(Refusal, match="empty"):
        rgba_array(b"", 0, 5)


def test_a_squared_picture_of_no_size_is_refused() -> None:
    for size in ((0, 10), (10, 0), (5000, 10)):
        with pytest.raises(Refusal, match="choose another size"):
            square_up(smooth_picture(), CORNERS, *size)
