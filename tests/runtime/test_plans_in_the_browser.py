"""The same project is backed alike under CPython on this machine and in the browser's Python."""

import io
import json
import re
import tarfile
from pathlib import Path
from typing import Any

import pytest
from shapely import Polygon

import plan_cases
from workshop.runtime.download import from_npm
from workshop.runtime.node import in_node
from workshop.runtime.pins import Pin

BLADE_MM = 0.01
Both = tuple[dict[str, Any], dict[str, Any]]
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
def both(runtime: Path, tmp_path_factory: pytest.TempPathFactory) -> Both:
    corpus = designs()
    folder = tmp_path_factory.mktemp("designs")
    (folder / "designs.json").write_text(json.dumps(corpus))
    code = """
import sys, json
sys.path.insert(0, "/tests")
import plan_cases
json.dumps(plan_cases.answers(json.load(open("/designs/designs.json"))))
"""
    mounts = {folder: "/designs", Path(__file__).parent: "/tests"}
    there = json.loads(in_node(runtime, code, ["peekpaper"], mounts))
    return plan_cases.answers(corpus), there


def test_the_demo_and_ten_designs_are_planned(both: Both) -> None:
    here, there = both
    assert len(here) == 11
    assert here.keys() == there.keys()
    for told in (*here.values(), *there.values()):
        assert told["plan"]["complete"]
        laid = [piece["number"] for trim in told["plan"]["trims"] for piece in trim["pieces"]]
        assert sorted(laid) == sorted(piece["number"] for piece in told["pieces"])


def test_pieces_back_the_same_openings_with_the_same_papers(both: Both) -> None:
    here, there = ([pieces(told, "number", "openings", "paper") for told in side.values()] for side in both)
    assert here == there


def test_outlines_differ_by_less_than_any_blade_can_follow(both: Both) -> None:
    """The sines of two machines differ in the last bit, and which of two like nodes is left out with them."""
    here, there = ([pieces(told, "path") for told in side.values()] for side in both)
    apart = [
        area(one).hausdorff_distance(area(other))
        for ours, theirs in zip(here, there, strict=True)
        for (one,), (other,) in zip(ours, theirs, strict=True)
    ]
    assert max(apart) < BLADE_MM


def test_triangles_have_room_for_pairs_of_indices_where_whole_numbers_are_small(runtime: Path) -> None:
    """The browser's Python is a 32-bit machine: pairs of indices packed in its own numbers once ran over."""
    code = """
import numpy as np
from peekpaper.delaunay import delaunay
str([np.array([1]).dtype.itemsize, delaunay(np.array([[0.0, 0.0], [0.0, 1.0], [1.0, 0.0]])).dtype.itemsize])
"""
    assert in_node(runtime, code, ["peekpaper"]) == "[4, 8]"


def pieces(told: dict[str, Any], *names: str) -> list[tuple[Any, ...]]:
    """Return what is told of each piece under these names."""
    return [tuple(piece[name] for name in names) for piece in told["pieces"]]


def area(path: str) -> Polygon:
    """Return the area inside a path of straight lines."""
    rings = [
        [tuple(map(float, node.split())) for node in ring.split("L")]
        for ring in path.replace("Z", "").split("M")
        if ring.strip()
    ]
    return Polygon(rings[0], rings[1:])
