"""Plans through the desk: the same again on another day, further on request, timed anew in no time."""

import json
from typing import Any

import pytest

from peekpaper.desk.desk import Desk
from peekpaper.desk.packing import Packer

PANES = "".join(
    f"M{5 + 22 * column} {5 + 22 * row}l{10 + 3 * row} {column}v14l-9 {3 - row}z"
    for column in range(4)
    for row in range(3)
)
FRAME = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 100 80">'
    f'<path fill-rule="evenodd" d="M0 0H100V80H0Z{PANES}"/></svg>'
)
FIGURES = {"seconds", "rounds", "complete", "kept"}


def answer(desk: Desk, call: str, *buffers: bytes, **arguments: Any) -> dict[str, Any]:
    *_, last = desk.steps(call, json.dumps(arguments), buffers)
    assert last.kind == "result", last.json
    value: dict[str, Any] = json.loads(last.json)
    return value


def papered(desk: Desk) -> dict[str, Any]:
    project: dict[str, Any] = answer(desk, "open", FRAME.encode(), name="panes.svg", file={"buffer": 0})[
        "project"
    ]
    paper = project["shelf"]["papers"][0]["id"]
    openings = answer(desk, "design", project=project)["openings"]
    project["colourways"][0]["papers"] = {str(opening["number"]): paper for opening in openings}
    return project


def middle(path: str) -> tuple[float, float]:
    """The middle of a path's corners."""
    corners = [corner.split() for corner in path.strip("MZ").split("L")]
    return sum(float(x) for x, _ in corners) / len(corners), sum(float(y) for _, y in corners) / len(corners)


def for_each_paper(project: dict[str, Any], rounds: int) -> list[dict[str, Any]]:
    return [{"paper": paper["id"], "rounds": rounds} for paper in project["shelf"]["papers"]]


def layout(plan: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in plan.items() if name not in FIGURES}


def test_a_plan_comes_again_on_another_day_from_the_rounds_that_were_done() -> None:
    desk = Desk()
    project = papered(desk)
    first = answer(desk, "plan", project=project, seconds=0.6)
    project["plan"]["rounds"] = first["rounds"]
    assert layout(answer(Desk(), "plan", project=project, seconds=600)) == layout(first)


def test_a_stopped_search_leaves_a_plan_that_comes_again() -> None:
    desk = Desk()
    project = papered(desk)
    steps = desk.steps("plan", json.dumps({"project": project, "seconds": 60}), ())
    shown = [json.loads(next(steps).json) for _ in range(12)]
    steps.close()
    last = [step for step in shown if "trims" in step][-1]
    project["plan"]["rounds"] = last["rounds"]
    again = answer(Desk(), "plan", project=project, seconds=600)
    assert layout(again) == {name: value for name, value in layout(last).items() if name != "elapsed_s"}


def test_looking_longer_goes_on_from_the_plan_that_is_there() -> None:
    desk = Desk()
    project = papered(desk)
    project["plan"]["rounds"] = for_each_paper(project, 12)
    first = answer(desk, "plan", project=project, seconds=5)
    project["plan"]["rounds"] = None
    steps = desk.steps("plan", json.dumps({"project": project, "seconds": 60}), ())
    assert layout({**json.loads(next(steps).json), "elapsed_s": 0}) == {**layout(first), "elapsed_s": 0}
    steps.close()
    trim = first["trims"][0]
    spot = {"mat": 1, "x_mm": 0.0, "y_mm": 0.0, "turned": False}
    assert answer(desk, "place_trim", project=project, trim=trim["id"], **spot)["place"] is not None


def test_another_cutting_speed_changes_the_time_and_nothing_else() -> None:
    desk = Desk()
    project = papered(desk)
    project["plan"]["rounds"] = for_each_paper(project, 3)
    first = answer(desk, "plan", project=project, seconds=5)
    project["speed"] = answer(desk, "calibrate", project=project, seconds=3 * first["seconds"])["speed"]
    steps = list(desk.steps("plan", json.dumps({"project": project, "seconds": 5}), ()))
    timed = json.loads(steps[-1].json)
    assert len(steps) <= 2, "nothing is sought again"
    assert layout(timed) == layout(first)
    assert timed["seconds"] == pytest.approx(3 * first["seconds"], rel=0.01)


def test_what_is_pinned_stays_and_the_rest_is_laid_around_it() -> None:
    desk = Desk()
    project = papered(desk)
    project["plan"]["rounds"] = for_each_paper(project, 4)
    trim = answer(desk, "plan", project=project, seconds=5)["trims"][0]
    piece = trim["pieces"][0]
    wanted = {"turn_deg": piece["turn_deg"], "x_mm": piece["x_mm"] + 2, "y_mm": piece["y_mm"] + 2}
    place = answer(desk, "place_piece", project=project, trim=trim["id"], piece=piece["number"], **wanted)[
        "place"
    ]
    project["plan"]["piece_pins"] = [{"piece": piece["number"], "trim": trim["id"], **place}]
    after = answer(desk, "plan", project=project, seconds=5)["trims"][0]
    held = next(one for one in after["pieces"] if one["number"] == piece["number"])
    assert {name: held[name] for name in place} == pytest.approx(place)
    assert len(after["pieces"]) == 12


def test_a_dragged_piece_keeps_clear_of_what_is_pinned_only() -> None:
    desk = Desk()
    project = papered(desk)
    project["plan"]["rounds"] = for_each_paper(project, 4)
    trim = answer(desk, "plan", project=project, seconds=5)["trims"][0]
    one, other = trim["pieces"][:2]
    (x, y), (other_x, other_y) = middle(one["path"]), middle(other["path"])
    onto = {
        "piece": one["number"],
        "turn_deg": one["turn_deg"],
        "x_mm": one["x_mm"] + other_x - x,
        "y_mm": one["y_mm"] + other_y - y,
    }
    free = answer(desk, "place_piece", project=project, trim=trim["id"], **onto)["place"]
    project["plan"]["piece_pins"] = [
        {"piece": other["number"], "trim": trim["id"]}
        | {name: other[name] for name in ("turn_deg", "x_mm", "y_mm")}
    ]
    answer(desk, "plan", project=project, seconds=5)
    blocked = answer(desk, "place_piece", project=project, trim=trim["id"], **onto)["place"]
    assert free is not None
    assert blocked != free


def test_a_trim_laid_by_hand_keeps_its_place_and_its_pieces() -> None:
    desk = Desk()
    project = papered(desk)
    project["plan"]["rounds"] = for_each_paper(project, 8)
    trim = answer(desk, "plan", project=project, seconds=5)["trims"][0]
    wanted = {"mat": 1, "x_mm": 100.0, "y_mm": 130.0, "turned": True}
    place = answer(desk, "place_trim", project=project, trim=trim["id"], **wanted)["place"]
    size = {name: trim[name] for name in ("paper", "width_mm", "height_mm")}
    project["plan"]["trim_pins"] = [{"trim": trim["id"], **size, **place}]
    project["plan"]["piece_pins"] = [
        {"piece": piece["number"], "trim": trim["id"]}
        | {name: piece[name] for name in ("turn_deg", "x_mm", "y_mm")}
        for piece in trim["pieces"]
    ]
    plan = answer(desk, "plan", project=project, seconds=5)
    (after,) = plan["trims"]
    assert {name: after[name] for name in place} == place
    assert [piece["path"] for piece in after["pieces"]] == [piece["path"] for piece in trim["pieces"]]


def test_a_kept_plan_is_there_at_once_and_is_what_its_search_found() -> None:
    desk = Desk()
    project = papered(desk)
    first = answer(desk, "plan", project=project, seconds=0.6)
    project["plan"]["rounds"] = first["rounds"]
    another_day = Desk()
    steps = list(
        another_day.steps("plan", json.dumps({"project": project, "seconds": 0, "kept": first["kept"]}))
    )
    again = json.loads(steps[-1].json)
    assert [step.kind for step in steps] == ["progress", "result"]
    assert again == {**first, "complete": True}
    # Hands and previews go on from it.
    assert answer(another_day, "preview", project=project) == answer(desk, "preview", project=project)


@pytest.mark.parametrize("spoilt", ["another paper", "another lip", "fewer openings", "garbled", "strewn"])
def test_a_kept_plan_of_other_decisions_or_a_spoilt_one_is_never_taken(spoilt: str) -> None:
    desk = Desk()
    project = papered(desk)
    first = answer(desk, "plan", project=project, seconds=0)
    kept = first["kept"]
    project["plan"]["rounds"] = first["rounds"]
    match spoilt:
        case "another paper":
            papers = project["colourways"][0]["papers"]
            papers["1"] = project["shelf"]["papers"][1]["id"]
        case "another lip":
            project["backing"]["lip_mm"] = 2.0
        case "fewer openings":
            del project["colourways"][0]["papers"]["3"]
        case "garbled":
            kept = {**kept, "trims": "none"}
        case "strewn":
            kept["trims"][0]["pieces"][0]["x_mm"] += 400.0
    anew = answer(Desk(), "plan", project=project, seconds=600)
    assert layout(answer(Desk(), "plan", project=project, seconds=600, kept=kept)) == layout(anew)


@pytest.mark.parametrize("packers", [1, 2, 3])
def test_any_number_of_packers_come_to_the_plan_that_the_desk_makes_alone(packers: int) -> None:
    desk = Desk()
    project = papered(desk)
    papers = [paper["id"] for paper in project["shelf"]["papers"][:3]]
    given = project["colourways"][0]["papers"]
    project["colourways"][0]["papers"] = {number: papers[int(number) % 3] for number in given}
    project["plan"]["rounds"] = for_each_paper(project, 4)
    alone = answer(Desk(), "plan", project=project, seconds=600)
    work = [each["text"] for each in answer(desk, "packing", project=project, seconds=600)["work"]]
    found: dict[str, str] = {}
    for first in range(packers):
        *_, last = Packer().steps("pack", json.dumps({"work": work[first::packers], "seconds": 600}))
        found |= json.loads(last.json)["found"]
    packed = answer(desk, "packed", project=project, found=found, is_all=True)
    assert packed == alone
    # Hands and sheets go on from it, and nothing is sought twice.
    assert answer(desk, "packing", project=project, seconds=600) == {"plan": alone, "work": []}


def test_packers_that_were_stopped_early_never_take_a_plan_back() -> None:
    desk = Desk()
    project = papered(desk)
    project["plan"]["rounds"] = for_each_paper(project, 6)
    best = answer(desk, "plan", project=project, seconds=600)
    project["plan"]["rounds"] = None
    begun = answer(desk, "packing", project=project, seconds=0.01)
    *_, last = Packer().steps("pack", json.dumps({"work": [begun["work"][0]["text"]], "seconds": 0}))
    assert begun["plan"]["trims"] == best["trims"]
    packed = answer(desk, "packed", project=project, found=json.loads(last.json)["found"], is_all=False)
    assert packed["trims"] == best["trims"]


def test_a_friend_finds_the_mats_in_the_link_and_nothing_is_sought_anew() -> None:
    desk = Desk()
    project = papered(desk)
    here = answer(desk, "plan", project=project, seconds=0.3)
    project["plan"]["rounds"] = here["rounds"]
    fragment = answer(desk, "link", project=project, with_plan=True)["fragment"]
    friend = Desk()
    linked = answer(friend, "open_link", fragment=fragment)
    begun = answer(friend, "packing", project=linked["project"], kept=linked["kept"], seconds=600)
    assert begun["work"] == []
    there = begun["plan"]
    assert there["paper_area_mm2"] == here["paper_area_mm2"]
    for one, other in zip(here["trims"], there["trims"], strict=True):
        assert [piece["number"] for piece in one["pieces"]] == [piece["number"] for piece in other["pieces"]]
        for name in ("x_mm", "y_mm", "turn_deg"):
            places = [[piece[name] for piece in trim["pieces"]] for trim in (one, other)]
            assert places[1] == pytest.approx(places[0], abs=0.001)
    assert (
        answer(desk, "open_link", fragment=answer(desk, "link", project=project)["fragment"])["kept"] is None
    )


def test_a_saved_project_holds_its_mats_and_whoever_opens_it_has_them_at_once() -> None:
    desk = Desk()
    project = papered(desk)
    here = answer(desk, "plan", project=project, seconds=0.3)
    project["plan"]["rounds"] = here["rounds"]
    text = answer(Desk(), "save", project=project, kept=here["kept"])["text"]
    there = Desk()
    asked = json.dumps({"name": "a.json", "file": {"buffer": 0}})
    (step,) = there.steps("open", asked, [text.encode()])
    opened = json.loads(step.json)
    begun = answer(there, "packing", project=opened["project"], kept=opened["kept"], seconds=600)
    assert begun["work"] == []
    assert begun["plan"]["paper_area_mm2"] == here["paper_area_mm2"]
    project["backing"]["lip_mm"] += 0.1
    changed = answer(Desk(), "save", project=project, kept=here["kept"])["text"]
    assert "layout" in json.loads(text)
    assert "layout" not in json.loads(changed)
