"""The reference is shapely's own wheel from PyPI, with the GEOS that its makers built for this machine."""

import json
from collections import Counter
from pathlib import Path

import geometry_cases
import pytest
import shapely

from workshop.runtime.node import in_node

SEED = 20200101
# Areas in square units of designs about 60 across; an ulp of a coordinate moves an area by some 1e-13.
SAME_AREA = 1e-9
LAST_BITS = 1e-12


@pytest.fixture(scope="module")
def both(runtime, tmp_path_factory) -> list[tuple[dict, dict]]:
    inputs = geometry_cases.made_inputs(SEED)
    folder = tmp_path_factory.mktemp("cases")
    (folder / "inputs.json").write_text(inputs)
    here = [json.loads(json.dumps(answer)) for answer in geometry_cases.answers(inputs)]
    code = """
import sys, json
sys.path.insert(0, "/tests")
import geometry_cases
json.dumps(list(geometry_cases.answers(open("/cases/inputs.json").read())))
"""
    mounts = {folder: "/cases", Path(__file__).parent: "/tests"}
    there = json.loads(in_node(runtime, code, ["numpy", "shapely"], mounts))
    return list(zip(here, there, strict=True))


def test_several_hundred_cases_of_eight_kinds_are_asked(both):
    kinds = Counter(here["kind"] for here, _ in both)
    assert len(kinds) == 8
    assert sum(kinds.values()) == 8 * geometry_cases.CASES_PER_KIND >= 300


def test_counts_and_neighbours_agree_exactly(both):
    assert [here["numbers"] for here, _ in both] == [there["numbers"] for _, there in both]


def test_every_area_agrees(both):
    for here, there in both:
        for one, other in zip(here["wkb"], there["wkb"], strict=True):
            if one == other:
                continue
            apart = shapely.symmetric_difference(
                shapely.make_valid(shapely.from_wkb(one)), shapely.make_valid(shapely.from_wkb(other))
            )
            assert apart.area <= SAME_AREA, here["kind"]


def test_what_takes_no_sines_agrees_to_the_last_bit(both):
    kinds = Counter(here["kind"] for here, there in both if here["wkb"] == there["wkb"])
    for kind in ("union", "difference", "triangles", "make_valid", "voronoi"):
        assert kinds[kind] == geometry_cases.CASES_PER_KIND


def test_round_corners_agree_to_the_last_bits_of_a_sine(both):
    for here, there in both:
        if here["kind"] in ("buffer", "inset"):
            ones, others = shapely.from_wkb(here["wkb"]), shapely.from_wkb(there["wkb"])
            assert shapely.hausdorff_distance(ones, others).max() <= LAST_BITS
