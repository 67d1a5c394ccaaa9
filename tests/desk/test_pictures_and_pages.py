"""The desk's calls on photos and on the page: what the page hands over and gets back."""

import json
from dataclasses import replace
from typing import Any

import numpy as np
from english import english_of

from peekpaper.demo.harbour import demo_project
from peekpaper.desk.desk import Desk
from peekpaper.papers.paper import Paper, Shelf
from peekpaper.project.codec import encode
from peekpaper.project.document import to_document

Answer = tuple[dict[str, Any], tuple[bytes, ...]]


def answer(call: str, arguments: dict[str, object], *buffers: bytes) -> Answer:
    *_, last = Desk().steps(call, json.dumps(arguments), buffers)
    assert last.kind == "result", last.json
    return json.loads(last.json), last.buffers


def test_a_photo_of_a_paper_comes_back_upright_with_its_plain_colour() -> None:
    photo = np.full((80, 100, 4), 255, dtype=np.uint8)
    photo[10:60, 20:90, :3] = (79, 157, 143)
    corners = [[20, 10], [90, 10], [90, 60], [20, 60]]
    arguments = {
        "pixels": {"buffer": 0}, "width": 100, "height": 80, "corners": corners,
        "width_mm": 140, "height_mm": 100,
    }  # fmt: skip
    squared, (pixels,) = answer("square_picture", arguments, photo.tobytes())
    size = {"width": 70, "height": 50}
    assert squared == {"pixels": {"buffer": 0}, **size, "colour": "#4f9d8f", "direction": "any"}
    assert set(np.frombuffer(pixels, dtype=np.uint8).reshape(-1, 4)[:, 0].tolist()) == {79}


def test_corners_that_make_no_sense_are_answered_with_a_sentence() -> None:
    arguments = {
        "pixels": {"buffer": 0}, "width": 2, "height": 2, "corners": [[0, 0], [2, 2], [2, 0], [0, 2]],
        "width_mm": 100, "height_mm": 100,
    }  # fmt: skip
    *_, last = Desk().steps("square_picture", json.dumps(arguments), (bytes(16),))
    assert (last.kind, english_of(json.loads(last.json)["message"])[:23]) == (
        "refusal",
        "The corners are crossed",
    )


def test_a_photo_finds_its_papers_on_the_shelf_of_the_project() -> None:
    project = demo_project()
    paper = project.shelf.papers[3]
    photo = np.tile(np.array([*bytes.fromhex(paper.colour[1:]), 255], dtype=np.uint8), (30, 40, 1))
    arguments = {
        "project": to_document(project), "pixels": {"buffer": 0}, "width": 40, "height": 30, "count": 3,
    }  # fmt: skip
    found, _ = answer("photo_papers", arguments, photo.tobytes())
    assert [one["paper"] for one in found["papers"]] == [paper.id]


def test_a_page_to_start_from_holds_the_piece_at_its_finished_size() -> None:
    found, _ = answer("start_page", {"project": to_document(demo_project())})
    page = found["page"]
    piece = page["blocks"][0]
    assert (page["width_mm"], page["height_mm"]) == (304.8, 304.8)
    assert piece["kind"] == "piece"
    assert (piece["width_mm"], piece["height_mm"]) == (203.2, 254.0)


def test_stories_are_told_over_the_shelf_and_what_the_stash_has_at_hand_besides() -> None:
    project = demo_project()
    red, blues = Paper("p1", "Red", "#c03020"), ("#10204a", "#27509a", "#4f8ad8", "#93bdf0")
    project = replace(project, shelf=Shelf((red,)), colourways=(), colourway="")
    stash = Shelf((
        *(Paper(f"s{at}", f"Blue {at}", colour, sheets=1) for at, colour in enumerate(blues)),
        Paper("peach", "Peach", "#e08050"),
        Paper("gone", "Gone", "#2a55a0", sheets=0),
    ))  # fmt: skip
    arguments = {"project": to_document(project), "stash": encode(stash), "count": 4}
    photo = np.full((30, 40, 4), (39, 80, 154, 255), dtype=np.uint8)
    seen = {"paper": None, "pixels": {"buffer": 0}, "width": 40, "height": 30}
    found, _ = answer("colour_stories", {**arguments, **seen}, photo.tobytes())
    by_kind = {story["kind"]: story["papers"] for story in found["stories"]}
    assert [one["stash"] for one in by_kind["light-to-dark"]] == ["s3", "s2", "s1", "s0"]
    assert all(one["shelf"] is None for one in by_kind["light-to-dark"])
    about_red, _ = answer("colour_stories", {**arguments, "paper": "p1"})
    told = [one for story in about_red["stories"] for one in story["papers"]]
    assert {"shelf": "p1", "stash": None} in told
    assert "gone" not in {one["stash"] for one in told}


def test_what_to_buy_is_told_in_rows_and_as_a_table() -> None:
    moss = Paper("m", "Moss", "#667733", sheets=1, price=2.0)
    drawn = encode(replace(moss, id="p1", stash="m"))
    need = {"project": "Harbour", "papers": [drawn], "sheets": {"p1": 3}}
    told, (table,) = answer("reorder", {"stash": encode(Shelf((moss,))), "needs": [need], "unit": "in"})
    (row,) = told["rows"]
    assert (row["stash"], row["to_buy"], row["cost"]) == ("m", 2, 4.0)
    assert "Moss" in table.decode("utf-8-sig")
