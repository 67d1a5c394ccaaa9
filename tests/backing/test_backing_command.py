"""Bad designs and odd choices through the command: a valid result with a warning, or one clear sentence."""

import json
from itertools import combinations
from pathlib import Path

import pytest
import shapely

from peekpaper.__main__ import main

TOUCHING_AT_A_POINT = "M10 10h20v20h-20z M30 30h20v20h-20z"
COINCIDENT_EDGES = "M10 10h20v20h-20z M30 10h20v20h-20z"
NESTED_RINGS = "M5 5h60v60h-60z M15 15h40v40h-40z M25 25h20v20h-20z"
SLIVERS = "M10 10L90 10.04L90 9.96z M10 20h80v.01h-80z M10 30h20v20h-20z"
CROSSING_ITSELF = "M10 10L50 50L50 10L10 50z"
SIDE_BY_SIDE = "M10 10h20v20h-20z M30.3 10h20v20h-20z"


def panel(folder: Path, holes: str) -> str:
    """Write a card of 100 by 70 mm with holes and return its path."""
    path = folder / "panel.svg"
    path.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="70mm" viewBox="0 0 100 70">'
        f'<path fill-rule="evenodd" d="M0 0h100v70h-100z{holes}"/></svg>'
    )
    return str(path)


@pytest.mark.parametrize(
    ("holes", "options", "warned"),
    [
        (TOUCHING_AT_A_POINT, (), "papers-meet"),
        (TOUCHING_AT_A_POINT, ("--gap", "10mm", "--lip", "100mm"), "papers-meet"),
        (COINCIDENT_EDGES, (), None),
        (NESTED_RINGS, (), "loose-bit"),
        (SLIVERS, (), "small-openings"),
        (CROSSING_ITSELF, (), "crossing-contours"),
        (SIDE_BY_SIDE, (), "no-room-between"),
        (SIDE_BY_SIDE, ("--gap", "200mm"), "no-room-between"),
        (SIDE_BY_SIDE, ("--lip", "0mm"), "wanted-lip"),
        (SIDE_BY_SIDE, ("--lip", "500mm"), "no-room-between"),
        (SIDE_BY_SIDE, ("--width", "5000mm"), "larger-than-mat"),
        (SIDE_BY_SIDE, ("--width", "2mm"), "narrow-lip"),
    ],
)
@pytest.mark.filterwarnings("error")
def test_a_bad_design_is_checked_and_told_about(holes, options, warned, tmp_path, capsys) -> None:
    assert main(["check", panel(tmp_path, holes), *options]) == 0
    found = json.loads(capsys.readouterr().out)
    assert [opening for piece in found["lips"] for opening in piece["openings"]] == [
        opening["id"] for opening in found["openings"]
    ]
    assert all(shapely.from_wkt(opening["wkt"]).is_valid for opening in found["openings"])
    assert warned is None or warned in {warning["code"] for warning in found["warnings"]}


@pytest.mark.parametrize(
    ("holes", "options"),
    [
        (TOUCHING_AT_A_POINT, ("--gap", "10mm", "--lip", "100mm")),
        (NESTED_RINGS, ()),
        (SLIVERS, ()),
        (SIDE_BY_SIDE, ("--lip", "0mm")),
    ],
)
def test_pieces_of_a_bad_design_are_valid_cover_their_openings_and_do_not_overlap(
    holes, options, tmp_path, capsys
) -> None:
    path = panel(tmp_path, holes)
    assert main(["check", path, *options]) == 0
    openings = {
        opening["id"]: shapely.from_wkt(opening["wkt"])
        for opening in json.loads(capsys.readouterr().out)["openings"]
    }
    assert main(["plan", path, "--rounds", "1", "--out", str(tmp_path / "out"), *options]) == 0
    pieces = json.loads((tmp_path / "out" / "plan.json").read_text())["pieces"]
    outlines = [shapely.from_wkt(piece["wkt"]) for piece in pieces]
    assert all(outline.is_valid for outline in outlines)
    for piece, outline in zip(pieces, outlines, strict=True):
        assert all(outline.buffer(1e-6).covers(openings[number]) for number in piece["openings"])
    assert all(one.intersection(other).area < 1e-3 for one, other in combinations(outlines, 2))


@pytest.mark.parametrize("option", ["--lip=-1mm", "--gap=-1mm", "--least-lip=-1mm", "--width=0mm"])
def test_a_length_without_sense_is_refused_in_one_sentence(option, tmp_path, capsys) -> None:
    try:
        code = main(["check", panel(tmp_path, SIDE_BY_SIDE), option])
    except SystemExit as stopped:
        code = stopped.code
    told = capsys.readouterr()
    assert (code, told.out) == (2, "")
    assert told.err.strip().endswith(".")
