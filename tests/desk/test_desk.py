"""The desk answers the page's calls: what a person sees when they open, back, plan and save."""

import gzip
import json
from typing import Any

import pytest
from english import english_of

from peekpaper.desk.desk import Desk
from peekpaper.pipeline import Pipeline
from peekpaper.project.document import new_project

FRAME = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 100 80">'
    '<path fill-rule="evenodd" d="M0 0H100V80H0ZM10 10H45V70H10ZM55 10H90V70H55Z"/></svg>'
)


def answer(desk: Desk, call: str, *buffers: bytes, **arguments: Any) -> dict[str, Any]:
    *_, last = desk.steps(call, json.dumps(arguments), buffers)
    assert last.kind == "result", last.json
    return {**json.loads(last.json), "buffers": last.buffers}


def refusal(desk: Desk, call: str, *buffers: bytes, **arguments: Any) -> str:
    *_, last = desk.steps(call, json.dumps(arguments), buffers)
    assert last.kind == "refusal"
    return english_of(json.loads(last.json)["message"])


def opened(desk: Desk, data: bytes = FRAME.encode()) -> dict[str, Any]:
    project: dict[str, Any] = answer(desk, "open", data, name="two panes.svg", file={"buffer": 0})["project"]
    return project


@pytest.mark.parametrize(
    "data", [FRAME.encode(), gzip.compress(FRAME.encode(), mtime=0), FRAME.encode("utf-16")]
)
def test_a_design_opens_with_every_opening_left_open(data: bytes) -> None:
    desk = Desk()
    project = opened(desk, data)
    assert project["name"] == "two panes"
    assert len(answer(desk, "design", project=project)["openings"]) == 2
    assert answer(desk, "backing", project=project)["pieces"] == []


def test_a_large_design_is_seen_before_it_is_checked() -> None:
    rings = "".join(f"M{10 * x} {10 * y}h6v6h-6z" for x in range(40) for y in range(40))
    side = f"M-4-4H400V400H-4z{rings}"
    svg = f'<svg xmlns="http://www.w3.org/2000/svg"><path fill-rule="evenodd" d="{side}"/></svg>'
    desk = Desk()
    [opened] = desk.steps("open", '{"name": "panes.svg", "file": {"buffer": 0}}', [svg.encode()])
    project = json.dumps({"project": json.loads(opened.json)["project"]})
    told = [each for each in desk.steps("design", project) if each.kind != "breath"]
    first, last = (json.loads(each.json) for each in told)
    assert [first["is_whole"], last["is_whole"]] == [False, True]
    assert [opening["path"] for opening in first["openings"]] == [pane["path"] for pane in last["openings"]]
    assert first["bars"] == []
    assert len(last["bars"]) > 3000
    assert {opening["alike"] for opening in last["openings"]} == {1}


LAYERS = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="50mm" viewBox="0 0 90 50">'
    '<path fill="#e2683f" d="M8 8h30v30H8z"/><path fill="#2a9d8f" d="M48 8h30v30H48z"/>'
    '<path fill="#333" fill-rule="evenodd" d="M0 0H90V50H0ZM10 10H35V35H10ZM50 10H75V35H50Z'
    'M80 10H85V35H80Z"/></svg>'
)


def test_the_colours_of_a_layered_file_become_papers_given_to_the_openings_they_fill() -> None:
    desk = Desk()
    project = opened(desk, LAYERS.encode())
    assert answer(desk, "design", project=project)["habit"] == "layers"
    [colourway] = project["colourways"]
    colours = {paper["id"]: paper["colour"] for paper in project["shelf"]["papers"]}
    given = {number: colours[paper] for number, paper in colourway["papers"].items()}
    assert given == {"1": "#e2683f", "2": "#2a9d8f"}
    kept = {**colourway, "papers": {"1": "p1"}}
    project = {**project, "colourways": [kept]}
    again = answer(desk, "edit", project=project, edit="read_again", to={"habit": "layers"})["project"]
    assert again["reading"] == {**project["reading"], "habit": "layers"}
    assert {n: colours[paper] for n, paper in again["colourways"][0]["papers"].items()} == {
        **given,
        "1": colours["p1"],
    }
    assert len(again["shelf"]["papers"]) == len(project["shelf"]["papers"])


def test_a_file_that_is_no_design_is_refused_in_a_sentence_and_what_was_open_still_answers() -> None:
    desk = Desk()
    project = opened(desk)
    assert "PNG" in refusal(desk, "open", b"\x89PNG\r\n\x1a\n....", name="photo.png", file={"buffer": 0})
    assert answer(desk, "design", project=project)["width_mm"] == pytest.approx(100)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        ("<text>For you</text>", "add its font file"),
        ('<image href="leaf.png" width="9" height="9"/>', "trace it"),
        ("<defs/>", "draws nothing that can be cut"),
    ],
)
def test_a_file_without_shapes_is_refused_with_the_reason(content: str, words: str) -> None:
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9">{content}</svg>'
    assert words in refusal(Desk(), "open", svg.encode(), name="words.svg", file={"buffer": 0})


def test_a_source_handed_over_once_is_named_by_its_key_from_then_on() -> None:
    desk = Desk()
    project = opened(desk)
    answer(desk, "keep_source", key="k1", svg=project["source"]["svg"])
    project["source"] = {"name": "two panes.svg", "key": "k1"}
    assert len(answer(desk, "design", project=project)["openings"]) == 2


def test_sources_of_designs_left_behind_are_let_go() -> None:
    desk = Desk()
    project = opened(desk)
    svg = project["source"]["svg"]
    for turn in range(20):
        answer(desk, "keep_source", key=f"k{turn}", svg=svg)
    project["source"] = {"name": "two panes.svg", "key": "k19"}
    assert len(answer(desk, "design", project=project)["openings"]) == 2
    project["source"] = {"name": "two panes.svg", "key": "k0"}
    (told,) = desk.steps("design", json.dumps({"project": project}))
    assert told.kind == "unknown-source"


def test_papers_given_to_openings_become_pieces_trims_and_sheets() -> None:
    desk = Desk()
    project = opened(desk)
    first, second = (paper["id"] for paper in project["shelf"]["papers"][:2])
    project["colourways"][0]["papers"] = {"1": first, "2": second}
    project["plan"]["rounds"] = [{"paper": one["id"], "rounds": 1} for one in project["shelf"]["papers"]]
    pieces = answer(desk, "backing", project=project)["pieces"]
    assert {piece["paper"] for piece in pieces} == {first, second}
    assert "plan" in refusal(desk, "sheets", project=project, choices={})
    plan = answer(desk, "plan", project=project, seconds=5)
    assert {trim["paper"] for trim in plan["trims"]} == {first, second}
    answer(desk, "prepare_sheets", kinds=["cut", "dxf", "templates", "trim-list", "glue-up"])
    steps = list(desk.steps("sheets", json.dumps({"project": project, "choices": {"kinds": ["cut"]}})))
    told = [json.loads(step.json) for step in steps[:-1]]
    assert [step["done"] for step in told] == list(range(len(steps)))[:-1]
    assert {step["total"] for step in told} == {len(steps) - 2}
    sheets = answer(desk, "sheets", project=project, choices={"kinds": ["cut"]})
    assert len(sheets["buffers"]) == len(sheets["files"]) > 0


def test_a_project_survives_saving_and_opening_and_a_link() -> None:
    desk = Desk()
    project = answer(desk, "demo")["project"]
    text = answer(desk, "save", project=project)["text"]
    assert answer(desk, "open", text.encode(), name="x.json", file={"buffer": 0})["project"] == project
    project["shelf"]["papers"][0]["picture"] = "key"
    small = {"key": {"buffer": 0}}
    fragment = answer(desk, "link", b"a small picture", project=project, pictures=small)["fragment"]
    opened = answer(desk, "open_link", fragment=fragment)
    assert (opened["project"], opened["pictures"], opened["buffers"]) == (
        project,
        small,
        (b"a small picture",),
    )


def test_a_shelf_file_that_is_opened_is_told_from_a_project() -> None:
    desk = Desk()
    text = answer(desk, "save_shelf", project=answer(desk, "demo")["project"])["text"]
    assert answer(desk, "open", text.encode(), name="x.json", file={"buffer": 0})["kind"] == "shelf"


def test_a_lasso_takes_the_openings_whose_middle_it_holds() -> None:
    desk = Desk()
    project = opened(desk)
    around_the_left_pane = [[0, 0], [50, 0], [50, 80], [0, 80]]
    assert answer(desk, "openings_in", project=project, outline=around_the_left_pane)["openings"] == [1]
    assert answer(desk, "openings_in", project=project, outline=[[0, 0], [1, 1]])["openings"] == []


def test_a_typed_length_is_read_or_refused() -> None:
    assert answer(Desk(), "read_length", text="2 1/2", unit="in")["mm"] == 63.5
    assert "length" in refusal(Desk(), "read_length", text="wide", unit="in")


def planned(desk: Desk) -> dict[str, Any]:
    project = opened(desk)
    paper = project["shelf"]["papers"][0]["id"]
    project["colourways"][0]["papers"] = {"1": paper, "2": paper}
    project["plan"]["rounds"] = [{"paper": one["id"], "rounds": 1} for one in project["shelf"]["papers"]]
    return project


def test_each_opening_learns_which_bit_of_the_pattern_it_will_show() -> None:
    desk = Desk()
    project = planned(desk)
    answer(desk, "plan", project=project, seconds=5)
    maps = answer(desk, "preview", project=project)["openings"]
    assert set(maps) == {"1", "2"}
    for a, b, c, d, *_ in maps.values():
        assert a * d - b * c == pytest.approx(1), "a pattern is turned and moved, never stretched or mirrored"


def test_what_is_dragged_lands_on_the_nearest_free_place() -> None:
    desk = Desk()
    project = planned(desk)
    trim = answer(desk, "plan", project=project, seconds=5)["trims"][0]
    piece = trim["pieces"][0]
    place = {key: piece[key] for key in ("turn_deg", "x_mm", "y_mm")}
    landed = answer(desk, "place_piece", project=project, trim=trim["id"], piece=piece["number"], **place)
    assert landed["place"] == pytest.approx(place)
    off_the_grid = {"mat": 1, "x_mm": 1.0, "y_mm": 2.0, "turned": False}
    landed = answer(desk, "place_trim", project=project, trim=trim["id"], **off_the_grid)
    assert landed["place"]["x_mm"] == landed["place"]["y_mm"] == 0
    assert "plan" in refusal(Desk(), "place_trim", project=project, trim=trim["id"], **off_the_grid)


def test_the_gluing_order_names_every_piece_once() -> None:
    desk = Desk()
    project = planned(desk)
    groups = answer(desk, "checklist", project=project)["groups"]
    assert sorted(step["piece"] for group in groups for step in group["steps"]) == [1, 2]


def test_a_paper_in_use_tells_where_before_it_is_removed() -> None:
    desk = Desk()
    project = planned(desk)
    paper = project["shelf"]["papers"][0]["id"]
    assert answer(desk, "uses", project=project, paper=paper)["uses"] == [
        {"colourway": "Colourway 1", "openings": 2}
    ]
    after = answer(desk, "edit", project=project, edit="remove_paper", to={"paper": paper})["project"]
    assert after["colourways"][0]["papers"] == {}
    assert "source" not in after


def test_a_shelf_goes_to_a_file_and_into_another_project() -> None:
    desk = Desk()
    demo = answer(desk, "demo")["project"]
    text = answer(desk, "save_shelf", project=demo)["text"]
    after = answer(desk, "edit", project=opened(desk), edit="add_shelf", to={"text": text})["project"]
    names = {paper["name"] for paper in after["shelf"]["papers"]}
    assert {paper["name"] for paper in demo["shelf"]["papers"]} <= names


def test_a_timed_cut_sets_the_speed() -> None:
    desk = Desk()
    project = planned(desk)
    plan = answer(desk, "plan", project=project, seconds=5)
    project["speed"] = answer(desk, "calibrate", project=project, seconds=2 * plan["seconds"])["speed"]
    assert answer(desk, "plan", project=project, seconds=5)["seconds"] == pytest.approx(
        2 * plan["seconds"], rel=0.01
    )


def test_every_way_to_read_a_file_comes_with_its_picture_and_count_and_can_be_taken() -> None:
    desk = Desk()
    project = opened(desk)
    *steps, last = desk.steps("readings", json.dumps({"project": project}))
    readings = json.loads(last.json)["readings"]
    assert json.loads(steps[0].json)["reading"] == readings[0]
    assert all(json.loads(step.json)["reading"] in readings for step in steps)
    assert readings[0]["choice"] == {
        "habit": "solids",
        "card_colour": None,
        "opening_colour": None,
        "to_page": False,
        "card_number": None,
    }
    assert (readings[0]["openings"], readings[0]["parts"], readings[0]["loose_bits"]) == (2, 1, 0)
    assert (readings[0]["width"], readings[0]["height"]) == (100, 80)
    for reading in readings:
        taken = answer(desk, "edit", project=project, edit="read_again", to=reading["choice"])["project"]
        design = answer(desk, "design", project={**taken, "source": project["source"]})
        assert len(design["openings"]) == reading["openings"]
    assert len({reading["card"] for reading in readings}) == len(readings) > 1


def test_a_trimmed_design_can_be_had_whole():
    """A print runs beyond all sides of its page: it is read as viewers show it, and offered whole."""
    holes = "M5 5h20v30h-20z M35 5h20v30h-20z M-15 5h10v30h-10z"
    svg = (
        FRAME[: FRAME.index("<path")]
        + f'<path fill-rule="evenodd" d="M-20 -10h140v120h-140z {holes}"/></svg>'
    )
    desk = Desk()
    project = opened(desk, svg.encode())
    *_, last = desk.steps("readings", json.dumps({"project": project}))
    first, second = json.loads(last.json)["readings"][:2]
    assert [(each["choice"]["to_page"], each["openings"]) for each in (first, second)] == [
        (True, 2),
        (False, 3),
    ]
    taken = answer(desk, "edit", project=project, edit="read_again", to=second["choice"])["project"]
    assert len(answer(desk, "design", project={**taken, "source": project["source"]})["openings"]) == 3


def test_a_readings_count_is_the_designs_own_crumbs_of_drawing_included():
    crumb = "M60 60h0.02v0.02h-0.02z"
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 100 80">'
        f'<path fill-rule="evenodd" d="M0 0H100V80H0ZM10 10H40V40H10Z{crumb}"/></svg>'
    )
    project = new_project("crumb.svg", svg)
    pipeline = Pipeline()
    first = next(iter(pipeline.readings(project)))
    assert first.openings == len(pipeline.design(project).openings) == 1


def test_a_project_whose_size_was_guessed_travels_with_that_size() -> None:
    desk = Desk()
    unsized = FRAME.replace('width="100mm" height="80mm" ', "")
    project = opened(desk, unsized.encode())
    here = answer(desk, "design", project=project)
    assert here["size_is_a_guess"]
    fragment = answer(desk, "link", project=project, pictures={})["fragment"]
    text = answer(desk, "save", project=project)["text"]
    friend = Desk()
    for sent in (answer(friend, "open_link", fragment=fragment)["project"], opened(friend, text.encode())):
        there = answer(friend, "design", project=sent)
        assert not there["size_is_a_guess"]
        size = (here["width_mm"], here["height_mm"])
        assert (there["width_mm"], there["height_mm"]) == pytest.approx(size, rel=1e-12)
        # In all else it is the same project.
        assert {**sent, "reading": {**sent["reading"], "width_mm": None}} == project
