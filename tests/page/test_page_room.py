"""Where what is new lands on a page, and what lines up while it is moved."""

import json
from typing import Any

import pytest
from conftest import Told

SCRIPT = """
import {{ linedUp, roomFor }} from "./places/papers/page-room.js";
tell({call});
"""
PAGE = {"width": 300.0, "height": 300.0}
PIECE = {"x": 90.0, "y": 150.0, "width": 160.0, "height": 280.0}


def told(told_by: Told, name: str, *arguments: object) -> Any:
    call = f"{name}({', '.join(json.dumps(each) for each in arguments)})"
    return told_by(SCRIPT.format(call=call))


def test_a_photo_lands_beside_the_work_and_smaller_where_it_must(told_by: Told) -> None:
    photo = {"width": 100.0, "height": 150.0}
    place = told(told_by, "roomFor", photo, [PIECE], PAGE)
    assert place["size"] == 1
    assert place["x"] - 50 >= 170
    assert place["x"] + 50 <= 300
    # As much room to the work as to the edge, and no higher than lower.
    assert place["x"] == pytest.approx(235, abs=2.5)
    assert place["y"] == pytest.approx(150, abs=2.5)
    wide = told(told_by, "roomFor", {"width": 150.0, "height": 100.0}, [PIECE], PAGE)
    assert wide["size"] < 1
    assert wide["x"] - 75 * wide["size"] >= 170
    full = told(told_by, "roomFor", photo, [{"x": 150, "y": 150, "width": 300, "height": 300}], PAGE)
    assert full == {"x": 150, "y": 150, "size": 1}


def test_what_is_moved_keeps_to_edges_and_to_equal_gaps_within_reach_only(told_by: Told) -> None:
    one = {"x": 237.0, "y": 61.0, "width": 60.0, "height": 100.0}
    near = told(told_by, "linedUp", one, [PIECE], PAGE, 3)
    # Its top is at the work's top, and the gaps on its left and right are 35 mm each.
    assert (near["x"], near["y"]) == (235, 60)
    assert [170, 0, 170, 300] in near["lines"]
    assert [0, 10, 300, 10] in near["lines"]
    far = told(told_by, "linedUp", one, [PIECE], PAGE, 0.5)
    assert (far["x"], far["y"], far["lines"]) == (237, 61, [])
