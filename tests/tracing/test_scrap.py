"""Left-overs in photos: their outlines in mm, and what is said where there is none."""

import json
from pathlib import Path

import numpy as np
import pytest
import shapely
from made_scraps import CARD_MM, card_at, photo_of, torn
from PIL import Image
from shapely import Polygon

from peekpaper.__main__ import main
from peekpaper.refusal import Refusal
from peekpaper.tracing.scrap import find_scrap, measured_scrap

SIZE = (1200, 900)
VIEWS = {
    "from above": ((20, 15), (1180, 15), (1180, 885), (20, 885)),
    "tilted": ((150, 90), (1080, 70), (1190, 870), (15, 885)),
    "askew": ((80, 110), (1130, 30), (1170, 875), (40, 790)),
}


def about_its_middle(outline: Polygon, turn_deg: float = 0.0) -> Polygon:
    """Return an outline turned, and moved so that its middle lies at the origin."""
    turned = shapely.affinity.rotate(outline, turn_deg, origin=(0, 0))
    middle = turned.centroid
    return shapely.affinity.translate(turned, -middle.x, -middle.y)


@pytest.mark.parametrize("view", VIEWS)
def test_an_outline_comes_within_half_a_millimetre_of_the_truth_whatever_the_view(view: str) -> None:
    turn = 6.0
    truth = torn((160, 100), 62, seed=3)
    photo = photo_of(truth, card_at(12, 12, turn), VIEWS[view], SIZE, pattern=view == "tilted")
    found = find_scrap(photo, CARD_MM)
    assert found.corners is not None
    scrap = measured_scrap(found.outline, found.corners, CARD_MM)
    seen, meant = about_its_middle(Polygon(scrap.outline)), about_its_middle(truth, -turn)
    away = max(
        one.exterior.segmentize(0.2).hausdorff_distance(other.exterior)
        for one, other in ((seen, meant), (meant, seen))
    )
    assert away < 0.5
    assert len(scrap.outline) < 160
    across = np.ptp(shapely.get_coordinates(seen), axis=0)
    assert (scrap.width_mm, scrap.height_mm) == pytest.approx(tuple(across), abs=0.02)


def test_a_scrap_with_square_corners_is_not_taken_for_the_card_beside_it() -> None:
    photo = np.full((1100, 1600, 4), 80, np.uint8)
    photo[72:396, 60:574, :3] = 240
    # Two sides of what is left go the same way, and so never meet.
    photo[240:960, 630:1080, :3] = (217, 138, 160)
    photo[600:960, 1080:1530, :3] = (217, 138, 160)
    found = find_scrap(photo, CARD_MM)
    assert found.corners is not None
    assert np.allclose(found.corners, [(60, 72), (574, 72), (574, 396), (60, 396)], atol=0.6)
    assert Polygon(found.outline).area == pytest.approx(450 * 720 + 450 * 360, rel=0.002)


def test_what_no_scrap_can_be_seen_in_is_told() -> None:
    flat = np.full((300, 400, 4), 255, np.uint8)
    with pytest.raises(Refusal) as told:
        find_scrap(flat, CARD_MM)
    assert told.value.code == "scrap-photo-nothing"
    flat[100:160, 100:200, :3] = 40
    with pytest.raises(Refusal) as told:
        find_scrap(flat, CARD_MM)
    assert told.value.code == "scrap-photo-one-thing"
    flat[200:, 250:350, :3] = (200, 30, 30)
    with pytest.raises(Refusal) as told:
        find_scrap(flat, CARD_MM)
    assert told.value.code == "scrap-photo-cut-off"


def test_the_command_measures_a_scrap_in_a_photo(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    photo = np.full((300, 400, 4), 255, np.uint8)
    photo[40:148, 20:191, :3] = 30
    photo[160:260, 220:380, :3] = (170, 40, 40)
    Image.fromarray(photo).save(tmp_path / "photo.png")
    assert main(["scrap", str(tmp_path / "photo.png")]) == 0
    told = json.loads(capsys.readouterr().out)
    # The card is 171 px wide, the scrap 160 x 100 px.
    assert told["width_mm"] == pytest.approx(160 * 85.6 / 171, abs=0.3)
    assert told["height_mm"] == pytest.approx(100 * 53.98 / 108, abs=0.3)
    assert len(told["outline"]) < 12
    down, across = np.mgrid[:300, :400]
    photo[..., :3] = 255
    for x, y, reach in ((100, 100, 60), (280, 180, 90)):
        photo[np.hypot(across - x, down - y) < reach] = (90, 60, 60, 255)
    Image.fromarray(photo).save(tmp_path / "no card.png")
    assert main(["scrap", str(tmp_path / "no card.png")]) == 2
    assert "like the card" in capsys.readouterr().err


def test_an_outline_that_crosses_itself_is_told() -> None:
    corners = [(0.0, 0.0), (85.6, 0.0), (85.6, 53.98), (0.0, 53.98)]
    with pytest.raises(Refusal) as told:
        measured_scrap([(0, 0), (10, 10), (10, 0), (0, 10)], corners, CARD_MM)
    assert told.value.code == "scrap-outline"
    square = measured_scrap([(100, 100), (160, 100), (160, 140), (100, 140)], corners, CARD_MM)
    assert (square.width_mm, square.height_mm) == pytest.approx((60, 40))
