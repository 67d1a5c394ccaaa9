import json

import pytest
import shapely

from peekpaper.__main__ import main
from peekpaper.demo.panel import svg_text


def checked(path, capsys, *options) -> dict:
    assert main(["check", str(path), *options]) == 0
    return json.loads(capsys.readouterr().out)


@pytest.fixture
def harbour(tmp_path):
    path = tmp_path / "harbour.svg"
    path.write_text(svg_text())
    return path


def test_the_check_prints_what_is_promised(harbour, capsys):
    found = checked(harbour, capsys)
    assert {
        "width_mm", "height_mm", "card", "openings", "bars", "smallest_width_mm", "warnings",
    } <= found.keys()  # fmt: skip
    assert (found["width_mm"], found["height_mm"]) == (pytest.approx(203.2), pytest.approx(254))
    assert found["bars"]["narrowest_mm"] == pytest.approx(1.016, abs=1e-3)
    assert [opening["id"] for opening in found["openings"]] == list(range(1, 128))
    assert {"id", "wkt", "area_mm2", "alike"} <= found["openings"][0].keys()
    assert {"code", "message", "at"} <= found["warnings"][0].keys()
    in_motifs = [number for motif in found["motifs"] for number in motif["openings"]]
    assert sorted(in_motifs) == list(range(1, 128))


def test_card_and_openings_fill_the_outline(harbour, capsys):
    found = checked(harbour, capsys)
    card = shapely.from_wkt(found["card"])
    openings = [shapely.from_wkt(opening["wkt"]) for opening in found["openings"]]
    outline = shapely.union_all([shapely.Polygon(part.exterior) for part in card.geoms])
    assert card.area + sum(opening.area for opening in openings) == pytest.approx(outline.area)
    for opening, told in zip(openings, found["openings"], strict=True):
        assert opening.area == pytest.approx(told["area_mm2"])


def test_a_width_sets_the_size(harbour, capsys):
    found = checked(harbour, capsys, "--width", "4in")
    assert (found["width_mm"], found["height_mm"]) == (pytest.approx(101.6), pytest.approx(127))


def test_more_lip_asks_for_a_wider_design(harbour, capsys):
    narrow = checked(harbour, capsys, "--least-lip", "0.5mm")["smallest_width_mm"]
    wide = checked(harbour, capsys, "--least-lip", "1mm")["smallest_width_mm"]
    assert wide > narrow


def test_a_file_that_is_no_design_is_refused_in_one_line(tmp_path, capsys):
    path = tmp_path / "picture.svg"
    path.write_bytes(b"\x89PNG\r\n\x1a\n....")
    assert main(["check", str(path)]) == 2
    assert capsys.readouterr().err.count("\n") == 1


def test_mending_all_leaves_no_fault_and_gives_the_mended_card_as_a_file(tmp_path, capsys):
    ring = "M0 0H80V80H0zM10 10H70V70H10zM30 30H50V50H30z"
    file, card = tmp_path / "ring.svg", tmp_path / "mended.svg"
    file.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="80mm" viewBox="0 0 80 80">'
        f'<path fill-rule="evenodd" d="{ring}"/></svg>'
    )
    assert main(["check", str(file), "--mend", "all", "--card", str(card)]) == 0
    told = json.loads(capsys.readouterr().out)
    assert {mend["finding"] for mend in told["mends"]} == {"loose-bit"}
    assert shapely.from_wkt(told["loose_bits"]).is_empty
    assert main(["check", str(card), "--mend", "all"]) == 0
    again = json.loads(capsys.readouterr().out)
    assert again["mends"] == []
    assert again["card"] != ""
    assert shapely.from_wkt(again["card"]).area == pytest.approx(
        shapely.from_wkt(told["card"]).area, rel=1e-6
    )
