"""The same project gives the same plan under CPython on this machine and in the browser's Python."""

import io
import json
import math
import os
import re
import subprocess
import sys
import tarfile
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import plan_cases
from workshop.places import REPOSITORY
from workshop.runtime.download import from_npm
from workshop.runtime.node import in_node
from workshop.runtime.pins import Pin

SAME_MM = 1e-6
Told = dict[str, Any]
Both = tuple[Told, Told]
# Icons that nobody here drew, Apache License 2.0; npm fetches them once into the cache.
ICONS = Pin(
    "@mdi/svg",
    "7.4.47",
    "mdi-svg-7.4.47.tgz",
    "de92e5dc9ce46c392ab5c53aa7190b19f82b40cb48872a083f788c7e13e91fef",
)
NAMES = ("spider-web", "web", "fruit-grapes", "dharmachakra", "basketball", "turtle", "hops", "sail-boat")
NAMES += ("snowflake", "butterfly")


def designs() -> dict[str, str]:
    """Return by name the SVG of square cards with an icon cut out of each."""
    told = {}
    with tarfile.open(fileobj=io.BytesIO(from_npm(ICONS))) as archive:
        for name in NAMES:
            file = archive.extractfile(f"package/svg/{name}.svg")
            assert file is not None
            outline = re.search(r' d="([^"]+)"', file.read().decode())
            assert outline is not None
            told[name] = (
                '<svg xmlns="http://www.w3.org/2000/svg" viewBox="-2 -2 28 28">'
                f'<path fill-rule="evenodd" d="M-2-2h28v28h-28z{outline[1]}"/></svg>'
            )
    return told


@pytest.fixture(scope="module")
def corpus(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("designs")
    (folder / "designs.json").write_text(json.dumps(designs()))
    return folder


@pytest.fixture(scope="module")
def both(runtime: Path, corpus: Path) -> Both:
    code = """
import sys, json
sys.path.insert(0, "/tests")
import plan_cases
json.dumps(plan_cases.answers(json.load(open("/designs/designs.json"))))
"""
    mounts = {corpus: "/designs", Path(__file__).parent: "/tests"}
    there = json.loads(in_node(runtime, code, ["peekpaper"], mounts))
    return plan_cases.answers(json.loads((corpus / "designs.json").read_text())), there


def test_the_demo_and_ten_designs_are_planned(both: Both) -> None:
    here, there = both
    assert len(here) == 11
    assert here.keys() == there.keys()
    for told in (*here.values(), *there.values()):
        assert told["complete"]
        laid = [number for trim in told["trims"] for number, _ in trim["pieces"]]
        assert sorted(laid) == sorted(piece["number"] for piece in told["pieces"])


def test_pieces_are_the_same_to_a_millionth_of_a_millimetre(both: Both) -> None:
    here, there = both
    for name, told in here.items():
        assert differences(told["pieces"], there[name]["pieces"], name) == []


def test_trims_mats_and_places_are_the_same_to_a_millionth_of_a_millimetre(both: Both) -> None:
    here, there = both
    for name, told in here.items():
        assert differences(told, there[name], name) == []


def test_processors_and_hash_seeds_make_no_difference(both: Both, corpus: Path) -> None:
    """A processor without the extensions that numpy has code for stands for another machine."""
    found = np._core._multiarray_umath
    extensions = [name for name in found.__cpu_dispatch__ if found.__cpu_features__[name]]
    code = (
        "import sys, json, plan_cases;"
        "print(json.dumps(plan_cases.answers(json.load(open(sys.argv[1] + '/designs.json')))))"
    )
    paths = os.pathsep.join([str(REPOSITORY / "py"), str(Path(__file__).parent)])
    plain = {"NPY_DISABLE_CPU_FEATURES": " ".join(extensions), "PYTHONHASHSEED": "7", "PYTHONPATH": paths}
    done = subprocess.run(
        [sys.executable, "-c", code, str(corpus)],
        env={**os.environ, **plain},
        capture_output=True,
        check=True,
    )
    assert differences(both[0], json.loads(done.stdout), "") == []


def test_the_plan_that_the_page_settles_on_comes_again_from_the_command_line(
    runtime: Path, tmp_path: Path
) -> None:
    """The page looks for some seconds and notes in the project how many rounds it came to."""
    code = """
import sys, json
sys.path.insert(0, "/tests")
from plan_cases import asked
from peekpaper.desk.desk import Desk
desk = Desk()
project = asked(desk, "demo")["project"]
plan = asked(desk, "plan", project=project, seconds=3)
project["plan"]["rounds"] = plan["rounds"]
json.dumps({"saved": asked(desk, "save", project=project)["text"], "plan": plan})
"""
    told = json.loads(in_node(runtime, code, ["peekpaper"], {Path(__file__).parent: "/tests"}))
    (tmp_path / "demo.json").write_text(told["saved"])
    command = [sys.executable, "-m", "peekpaper", "plan", "demo.json", "--out", "sheets"]
    environment = {**os.environ, "PYTHONPATH": str(REPOSITORY / "py")}
    subprocess.run(command, cwd=tmp_path, env=environment, check=True, capture_output=True)
    written = json.loads((tmp_path / "sheets" / "plan.json").read_text())
    noted = {one["paper"]: one["rounds"] for one in told["plan"]["rounds"]}
    assert noted == written["rounds_of_papers"]
    assert written["rounds"] > 0
    assert len(told["plan"]["mats"]) == len(written["mats"])
    for there, here in zip(told["plan"]["trims"], written["trims"], strict=True):
        # The command tells trims as they lie on their mats, the page as they lie on the sheet.
        sides = [there["width_mm"], there["height_mm"]]
        assert (
            differences(sides[:: -1 if there["turned"] else 1], [here["width_mm"], here["height_mm"]], "")
            == []
        )
        for measure in ("paper", "mat", "x_mm", "y_mm"):
            assert differences(there[measure], here[measure], measure) == []
        assert [piece["number"] for piece in there["pieces"]] == [piece["id"] for piece in here["pieces"]]


def test_triangles_have_room_for_pairs_of_indices_where_whole_numbers_are_small(runtime: Path) -> None:
    """The browser's Python is a 32-bit machine: pairs of indices packed in its own numbers once ran over."""
    code = """
import numpy as np
from peekpaper.geometry.delaunay import delaunay
str([np.array([1]).dtype.itemsize, delaunay(np.array([[0.0, 0.0], [0.0, 1.0], [1.0, 0.0]])).dtype.itemsize])
"""
    assert in_node(runtime, code, ["peekpaper"]) == "[4, 8]"


def differences(one: Any, other: Any, where: str) -> list[str]:
    """Return where two values made of lists and mappings differ, numbers by more than SAME_MM."""
    if isinstance(one, float) and isinstance(other, int | float):
        return [] if math.isclose(one, other, rel_tol=0, abs_tol=SAME_MM) else [f"{where}: {one}, {other}"]
    if isinstance(one, dict) and isinstance(other, dict) and one.keys() == other.keys():
        return [line for key in one for line in differences(one[key], other[key], f"{where} {key}")]
    if isinstance(one, list | tuple) and isinstance(other, list | tuple) and len(one) == len(other):
        pairs = enumerate(zip(one, other, strict=True))
        return [line for number, (a, b) in pairs for line in differences(a, b, f"{where} {number}")]
    return [] if one == other else [f"{where}: {one}, {other}"]
