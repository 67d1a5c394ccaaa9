import errno
import json
import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
import shapely
from shapely import affinity
from sheet_readers import deviation, read_svg_cuts

from peekpaper.__main__ import main
from peekpaper.papers.paper import Colourway
from peekpaper.project.document import from_json, to_json
from peekpaper.project.link import from_link

PANEL = """<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="80mm" viewBox="0 0 120 80">
<path fill-rule="evenodd" d="M4 4H116V76H4Z
M12 12h24v24h-24z M44 12h24v24h-24z M76 12h30v24h-30z
M12 44h24v24h-24z M44 56a12 12 0 1 0 24 0a12 12 0 1 0 -24 0z M76 44h30v24h-30z"/></svg>"""


@pytest.fixture(scope="module")
def planned(tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("plan")
    (folder / "panel.svg").write_text(PANEL)
    options = ["--papers", "3", "--rounds", "3", "--seconds", "20", "--units", "mm", "--mat", "200x200mm"]
    assert main(["plan", str(folder / "panel.svg"), "--out", str(folder / "out"), *options]) == 0
    return folder / "out"


def value(planned: Path) -> dict:
    return json.loads((planned / "plan.json").read_text())


def test_the_plan_has_the_promised_keys(planned):
    plan = value(planned)
    assert plan.keys() >= {"pieces", "trims", "mats", "cut_length_mm", "warnings"}
    for piece in plan["pieces"]:
        assert piece.keys() >= {"id", "openings", "paper", "wkt", "lip_min_mm"}
        assert piece["openings"][0] in plan["motifs"][piece["motif"] - 1]["openings"]
    for trim in plan["trims"]:
        assert trim.keys() >= {"paper", "width_mm", "height_mm", "mat", "x_mm", "y_mm", "pieces"}
        for piece in trim["pieces"]:
            assert piece.keys() >= {"id", "wkt", "turn_deg"}
    for mat in plan["mats"]:
        assert (mat["width_mm"], mat["height_mm"]) == (200, 200)


def test_every_piece_lies_once_in_the_rectangle_of_its_trim_in_mat_coordinates(planned):
    plan = value(planned)
    pieces = {piece["id"]: shapely.from_wkt(piece["wkt"]) for piece in plan["pieces"]}
    seen = []
    for trim in plan["trims"]:
        left, top = trim["x_mm"], trim["y_mm"]
        frame = shapely.box(left, top, left + trim["width_mm"], top + trim["height_mm"])
        for placed in trim["pieces"]:
            seen.append(placed["id"])
            outline = shapely.from_wkt(placed["wkt"])
            assert frame.contains(outline)
            turned = affinity.rotate(pieces[placed["id"]], placed["turn_deg"], origin=(0, 0))
            shift = outline.centroid.x - turned.centroid.x, outline.centroid.y - turned.centroid.y
            assert outline.equals_exact(affinity.translate(turned, *shift), 1e-6)
    assert sorted(seen) == sorted(pieces)


def test_the_cut_file_of_each_mat_is_the_plan(planned):
    plan = value(planned)
    for mat in plan["mats"]:
        cuts = read_svg_cuts((planned / f"panel mat {mat['number']}.svg").read_bytes())
        found = {name: outline for pieces in cuts.groups.values() for name, outline in pieces.items()}
        for trim in plan["trims"]:
            if trim["mat"] == mat["number"]:
                for placed in trim["pieces"]:
                    outline = shapely.from_wkt(placed["wkt"])
                    assert deviation(found[f"piece-{placed['id']}"], outline) <= 0.02


def test_the_project_it_writes_gives_the_same_plan_again(planned, tmp_path):
    assert main(["plan", str(planned / "panel project.json"), "--out", str(tmp_path)]) == 0
    again = json.loads((tmp_path / "plan.json").read_text())
    for key in ("pieces", "trims", "mats", "cut_length_mm"):
        assert again[key] == value(planned)[key]


def test_papers_are_spread_in_the_chosen_colourway_around_what_is_locked_and_others_stay(planned, tmp_path):
    before = from_json((planned / "panel project.json").read_text())
    first = Colourway("c1", "Warm", {1: "p1", 2: "p2"})
    chosen = Colourway("c2", "Cool", {1: "p3"}, locked=(1,))
    path = tmp_path / "two.json"
    path.write_text(to_json(replace(before, colourways=(first, chosen), colourway="c2")))
    options = ["--papers", "2", "--rounds", "1"]
    assert main(["plan", str(path), "--out", str(tmp_path / "out"), *options]) == 0
    (written,) = (tmp_path / "out").glob("*project.json")
    after = from_json(written.read_text())
    assert after.colourway == "c2"
    assert after.colourways[0] == first
    spread = after.colourways[1]
    assert (spread.id, spread.name, spread.locked) == ("c2", "Cool", (1,))
    assert spread.papers[1] == "p3"
    assert len(spread.papers) == 6
    assert len(set(spread.papers.values())) == 2


def test_every_kind_of_sheet_is_written(planned):
    kinds = {path.suffix for path in planned.iterdir()}
    assert kinds == {".json", ".svg", ".dxf", ".pdf", ".csv", ".png", ".zip"}
    assert not list(planned.glob("*.part"))


def test_a_link_to_the_project_is_written_where_the_page_has_an_address(tmp_path):
    (tmp_path / "panel.svg").write_text(PANEL)
    options = ["--out", str(tmp_path / "out"), "--rounds", "1", "--address", "https://peekpaper.example/"]
    assert main(["plan", str(tmp_path / "panel.svg"), *options]) == 0
    link = (tmp_path / "out" / "panel link.txt").read_text().strip()
    assert link.startswith("https://peekpaper.example/#p=")
    saved = from_json((tmp_path / "out" / "panel project.json").read_text())
    assert from_link(link.split("#p=")[1]) == saved


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--papers", "0"], "papers"),
        (["--papers", "99"], "papers"),
        (["--seconds", "0"], "more than 0 seconds"),
        (["--seconds", "nan"], "more than 0 seconds"),
        (["--mat", "12"], "is no size"),
        (["--lip", "many"], "is no length"),
        (["--spacing", "-1mm"], "spacing can't be less than zero"),
        (["--margin", "-.5mm"], "trim margin can't be less than zero"),
        (["--trim-step", "-1/2in"], "steps above zero"),
        (["--mat", "-12x12in"], "no room on the mat"),
    ],
)
def test_options_that_make_no_sense_end_in_one_line_and_exit_2(options, words, tmp_path, capsys):
    (tmp_path / "panel.svg").write_text(PANEL)
    arguments = [
        "plan",
        str(tmp_path / "panel.svg"),
        "--out",
        str(tmp_path / "out"),
        "--rounds",
        "1",
        *options,
    ]
    try:
        code = main(arguments)
    except SystemExit as stop:
        code = stop.code
    assert code == 2
    last = capsys.readouterr().err.strip().splitlines()[-1]
    assert words in last
    assert "Traceback" not in last


@pytest.mark.parametrize("data", [b"", b"{", b"not a design", b"\x89PNG\r\n\x1a\n", b'{"format": 1}'])
def test_a_file_that_is_no_design_ends_in_one_line_and_exit_2(data, tmp_path, capsys):
    (tmp_path / "file.svg").write_bytes(data)
    assert main(["plan", str(tmp_path / "file.svg"), "--out", str(tmp_path / "out")]) == 2
    assert len(capsys.readouterr().err.strip().splitlines()) == 1
    assert not (tmp_path / "out").exists()


def test_a_full_disk_is_said_with_the_file_that_did_not_fit_and_leaves_no_half_of_one(
    tmp_path, capsys, monkeypatch
):
    (tmp_path / "panel.svg").write_text(PANEL)

    def write_half(path: Path, data: bytes) -> None:
        with path.open("wb") as file:
            file.write(data[: len(data) // 2])
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", write_half)
    out = tmp_path / "out"
    assert main(["plan", str(tmp_path / "panel.svg"), "--out", str(out), "--rounds", "1"]) == 2
    assert capsys.readouterr().err == f"{out / 'plan.json'}: No space left on device\n"
    assert list(out.iterdir()) == []


def test_a_reader_who_stops_early_is_no_error_to_tell_of(tmp_path):
    (tmp_path / "panel.svg").write_text(PANEL)
    command = [sys.executable, "-m", "peekpaper", "check", str(tmp_path / "panel.svg")]
    path = {"PYTHONPATH": str(Path(__file__).parents[2] / "py")}
    reading, writing = os.pipe()
    os.close(reading)
    done = subprocess.run(command, stdout=writing, stderr=subprocess.PIPE, check=False, env=path)
    os.close(writing)
    assert done.stderr == b""


def test_a_missing_file_and_a_folder_that_cannot_be_made_are_said_plainly(tmp_path):
    (tmp_path / "panel.svg").write_text(PANEL)
    for source, out in (("gone.svg", "out"), ("panel.svg", "panel.svg/out")):
        command = [sys.executable, "-m", "peekpaper", "plan", str(tmp_path / source), "--rounds", "1"]
        done = subprocess.run(
            [*command, "--out", str(tmp_path / out)],
            capture_output=True,
            text=True,
            check=False,
            env={"PYTHONPATH": str(Path(__file__).parents[2] / "py")},
        )
        assert done.returncode == 2
        assert len(done.stderr.strip().splitlines()) == 1


def test_a_library_that_is_missing_is_named_with_the_way_to_get_it(tmp_path, monkeypatch, capsys):
    def without(_work, _choices):
        raise ModuleNotFoundError("No module named 'fpdf'", name="fpdf")

    monkeypatch.setattr("peekpaper.commands.plan.take_sheets", without)
    design = tmp_path / "squares.svg"
    design.write_text(PANEL)
    assert main(["plan", str(design), "--out", str(tmp_path / "out"), "--seconds", "0.1"]) == 2
    assert "pip install 'peekpaper[dxf,lettering,pdf,sheets]'" in capsys.readouterr().err
