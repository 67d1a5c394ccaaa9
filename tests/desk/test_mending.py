"""Mends as the page asks for them: proposals, mends drawn by hand, decisions that stay where they were."""

import json
from typing import Any

import numpy as np
import pytest
from test_desk import answer, opened, refusal

from peekpaper.desk.desk import Desk

BITS = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 100 80">'
    '<path fill-rule="evenodd" d="M0 0H100V80H0ZM10 10H45V70H10ZM55 10H90V70H55Z'
    'M20 20H24V24H20ZM60 20H85V60H60Z"/>'
    "</svg>"
)


FILL = {"kind": "fill", "at": [17.5, 20]}


def edited(desk: Desk, project: dict[str, Any], edit: str, **to: Any) -> dict[str, Any]:
    return {**project, **answer(desk, "edit", project=project, edit=edit, to=to)["project"]}


def held(desk: Desk, project: dict[str, Any]) -> dict[str, Any]:
    """Return the project with every loose bit held as proposed."""
    proposals = answer(desk, "mends", project=project)["proposals"]
    changes = [change for each in proposals if each["choice"] == "hold" for change in each["mends"]]
    return edited(desk, project, "add_mends", mends=changes, finding="loose-bit")


def test_loose_bits_are_proposed_to_be_held_dropped_or_glued_and_held_bits_are_found_no_more() -> None:
    desk = Desk()
    project = opened(desk, BITS.encode())
    proposals = answer(desk, "mends", project=project)["proposals"]
    assert [each["choice"] for each in proposals] == ["hold", "drop", "glue"] * 2
    assert all(each["finding"] == "loose-bit" for each in proposals)
    mended = held(desk, project)
    design = answer(desk, "design", project=mended)
    assert [warning["code"] for warning in design["warnings"]] == []
    assert design["loose_bits"] == []
    assert answer(desk, "mends", project=mended)["proposals"] == []


def test_a_speck_that_touches_the_card_is_let_go_rather_than_joined_and_makes_no_bar_thin() -> None:
    desk = Desk()
    specks = "M100.02 40h.4v.4h-.4zM60 40.42h.4v-.4h-.4z"
    panel = f'<path fill-rule="evenodd" d="M0 0H100V80H0ZM10 40H90V70H10Z{specks}"/>'
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="110mm" height="80mm" viewBox="0 0 110 80">'
        f"{panel}</svg>"
    )
    proposals = answer(desk, "mends", project=opened(desk, svg.encode()))["proposals"]
    assert {each["finding"] for each in proposals} == {"loose-bit", "separate-parts"}
    assert [each["choice"] for each in proposals] == ["drop", "hold", "glue", "drop", "join", "leave"]


def test_one_call_mends_all_and_says_first_what_that_does() -> None:
    desk = Desk()
    project = opened(desk, BITS.encode())
    told = answer(desk, "mend_all", project=project)
    assert [each["finding"] for each in told["mends"]] == ["loose-bit"] * 3
    assert (told["parts"], told["loose_bits"], told["openings"]) == (1, 0, 3)
    mended = edited(desk, project, "mend_all")
    assert [mend["change"] for mend in mended["mends"]] == [each["change"] for each in told["mends"]]
    assert answer(desk, "mend_all", project=mended)["mends"] == []


def test_mending_all_tells_how_much_it_found_and_may_be_stopped_with_nothing_changed() -> None:
    desk = Desk()
    project = opened(desk, BITS.encode())
    steps = desk.steps("mend_all", json.dumps({"project": project}))
    found = [json.loads(next(steps).json)["found"]]
    while found[-1] < 3:
        found.append(json.loads(next(steps).json)["found"])
    assert found == sorted(found)
    assert found[0] == 0
    assert found[-1] == 3
    steps.close()
    assert answer(desk, "mend_all", project=project)["loose_bits"] == 0


def test_what_is_glued_by_hand_stays_a_loose_bit_that_is_no_fault_any_more_and_what_is_dropped_goes() -> None:
    desk = Desk()
    project = opened(desk, BITS.encode())
    proposals = answer(desk, "mends", project=project)["proposals"]
    for choice, stays in (("glue", True), ("drop", False)):
        changes = [change for each in proposals if each["choice"] == choice for change in each["mends"]]
        design = answer(desk, "design", project=edited(desk, project, "add_mends", mends=changes))
        assert [warning["code"] for warning in design["warnings"]] == []
        assert (design["loose_bits"] != []) is stays


def test_parts_of_an_opening_that_a_bar_splits_keep_its_paper_and_the_other_keeps_its_own() -> None:
    desk = Desk()
    project = opened(desk, BITS.encode())
    project["colourways"][0] |= {"papers": {"1": "p1", "2": "p2"}, "locked": [2]}
    project["ticked"] = [2]
    mended = held(desk, project)
    assert mended["colourways"][0]["papers"] == {"1": "p2", "2": "p1", "3": "p2"}
    assert mended["colourways"][0]["locked"] == [1, 3]
    assert mended["ticked"] in ([1], [3])
    back = edited(desk, mended, "clear_mends")
    assert back["mends"] == []
    assert back["colourways"][0]["papers"] == {"1": "p1", "2": "p2"}
    assert back["ticked"] == [2]


def test_mends_stay_in_place_at_another_finished_size() -> None:
    desk = Desk()
    mended = held(desk, opened(desk, BITS.encode()))
    small = {**mended, "reading": {**mended["reading"], "width_mm": 50.0}}
    design = answer(desk, "design", project=small)
    assert (design["loose_bits"], design["width_mm"]) == ([], 50.0)
    assert len(design["openings"]) == 3


def test_a_drawn_bar_ends_at_the_edges_and_meets_them_squarely() -> None:
    desk = Desk()
    project = opened(desk, BITS.encode())
    tried = answer(
        desk, "try_mend", project=project, change={"kind": "bar", "line": [[5, 30], [50, 31]], "width": 2}
    )
    assert tried["changed_mm2"] == pytest.approx(70)
    assert (tried["openings"], tried["parts"], tried["loose_bits"]) == (3, 1, 2)
    assert (
        len(
            answer(desk, "design", project=edited(desk, project, "add_mends", mends=tried["mends"]))[
                "openings"
            ]
        )
        == 3
    )


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"kind": "bar", "line": [[12, 40], [20, 41]], "width": 2}, "needs card at both ends"),
        ({"kind": "bar", "line": [[30, 40], [30.5, 41]], "width": 2}, "needs card at both ends"),
        ({"kind": "bar", "line": [[1, 3], [5, 3]], "width": 2}, "lies on card all along"),
        ({"kind": "bar", "line": [[95, 40], [120, 40]], "width": 2}, "needs card at both ends"),
        ({"kind": "rub", "line": [[50, 0], [50, 80]], "radius": 90}, "whole card"),
        ({"kind": "rub", "line": [[30, 40], [30, 42]], "radius": 1}, "no card here"),
        ({"kind": "cut", "outline": [[30, 40], [31, 40], [31, 41]]}, "no card here"),
        ({"kind": "fill", "at": [1, 1]}, "no opening here"),
        ({"kind": "outline", "line": [[30, 40], [36, 40]]}, "encloses nothing"),
    ],
)
def test_what_can_not_be_done_by_hand_is_said(change: dict[str, Any], words: str) -> None:
    desk = Desk()
    assert words in refusal(desk, "try_mend", project=opened(desk, BITS.encode()), change=change)


def test_a_bar_across_many_openings_is_refused() -> None:
    panes = "".join(f"M{10 * x + 2} 2h6v6h-6z" for x in range(10))
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="10mm" viewBox="0 0 100 10">'
        f'<path fill-rule="evenodd" d="M0 0H100V10H0z{panes}"/></svg>'
    )
    desk = Desk()
    change = {"kind": "bar", "line": [[1, 5], [99, 5]], "width": 1}
    assert "10 openings" in refusal(desk, "try_mend", project=opened(desk, svg.encode()), change=change)


def test_a_mend_whose_place_is_gone_is_told_and_can_be_taken_away() -> None:
    desk = Desk()
    project = held(desk, opened(desk, BITS.encode()))
    project = edited(desk, project, "add_mends", mends=[{"kind": "fill", "at": [1, 1]}])
    lost = [mend["id"] for mend in answer(desk, "mends", project=project)["mends"] if mend["is_lost"]]
    assert lost == ["m4"]
    [warning] = answer(desk, "design", project=project)["warnings"]
    assert (warning["code"], warning["action"]) == ("lost-mends", "drop-lost-mends")
    assert answer(desk, "design", project=edited(desk, project, "remove_mends", ids=lost))["warnings"] == []


def test_taking_away_the_whole_card_is_refused_and_changes_nothing() -> None:
    desk = Desk()
    project = opened(desk, BITS.encode())
    change = {"kind": "rub", "line": [[50, 0], [200, 300]], "radius": 4000}
    sentence = refusal(desk, "edit", project=project, edit="add_mends", to={"mends": [change]})
    assert "no card is left" in sentence
    assert len(answer(desk, "design", project=project)["openings"]) == 2


def test_a_bar_that_is_tapped_goes_and_the_openings_beside_it_become_one() -> None:
    desk = Desk()
    project = opened(desk, BITS.encode())
    told = answer(desk, "try_mend", project=project, change={"kind": "take-bar", "at": [50, 40]})
    assert told["openings"] == 1
    assert told["parts"] == 1
    assert refusal(desk, "try_mend", project=project, change={"kind": "take-bar", "at": [5, 5]}) == (
        "There is no bar between two openings here: tap the card between them."
    )


@pytest.mark.parametrize("margin", [0, 5])
@pytest.mark.parametrize("shape", ["rectangle", "outline"])
def test_a_border_with_a_hole_to_hang_it_by_is_one_piece_with_the_card(margin: float, shape: str) -> None:
    desk = Desk()
    project = opened(desk, SQUARES.encode())
    frame = {"kind": "frame", "shape": shape, "width": 8, "margin": margin, "corner": 4, "hole": 4}
    told = answer(desk, "try_mend", project=project, change=frame)
    assert (told["parts"], told["loose_bits"]) == (1, 0)
    design = answer(desk, "design", project=edited(desk, project, "add_mends", mends=told["mends"]))
    assert design["width_mm"] == pytest.approx(120 + 2 * (8 + margin), abs=0.05)
    assert not {warning["code"] for warning in design["warnings"]} & {"loose-bit", "separate-parts"}


SQUARES = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="40mm" viewBox="0 0 120 40">'
    '<path fill-rule="evenodd" d="M0 0H120V40H0ZM10 8H30V38L20 30L10 38ZM50 8H70V38L60 30L50 38Z'
    'M90 2V32L100 24L110 32V2Z"/></svg>'
)


def test_what_is_done_to_one_opening_is_offered_for_all_that_are_alike_as_they_are_turned() -> None:
    desk = Desk()
    project = opened(desk, SQUARES.encode())
    bar = {"kind": "bar", "line": [[20, 6], [20, 33]], "width": 2}
    told = answer(desk, "try_mend", project=project, change=bar)
    assert len(told["repeats"]) == 2
    mended = edited(desk, project, "add_mends", mends=[*told["mends"], *told["repeats"]])
    design = answer(desk, "design", project=mended)
    assert len(design["openings"]) == 6
    assert {opening["alike"] for opening in design["openings"]} == {1}


@pytest.mark.parametrize("shape", ["circle", "square", "heart", "leaf", "drop", "star"])
def test_simple_shapes_are_cut_as_large_as_they_are_drawn(shape: str) -> None:
    desk = Desk()
    project = opened(desk, SQUARES.encode())
    [told] = [each for each in answer(desk, "cut_shapes")["shapes"] if each["shape"] == shape]
    assert told["path"].startswith("M")
    change = {"kind": "shape", "shape": shape, "middle": [40, 20], "edge": [46, 20]}
    tried = answer(desk, "try_mend", project=project, change=change)
    assert (tried["openings"], tried["parts"], tried["loose_bits"]) == (4, 1, 0)
    assert 20 < tried["changed_mm2"] <= 36 * 3.1416


def test_an_opening_drawn_by_a_finger_is_smooth_between_its_corners_and_closed_where_it_began() -> None:
    desk = Desk()
    project = opened(desk, waists(3).encode())
    shakes = np.random.default_rng(1).uniform(-0.4, 0.4, (60, 2))
    turns = np.linspace(0, 2 * np.pi, 60)
    round_line = np.array([17.5, 20]) + 5 * np.stack([np.cos(turns), np.sin(turns)], axis=1) + shakes
    sides = np.array([[12.0, 12], [22, 12], [22, 25], [12, 25], [12, 12], [13, 11.5]])
    steps = [sides[:-1] + part * np.diff(sides, axis=0) for part in np.arange(10) / 10]
    square_line = np.stack(steps, axis=1).reshape(-1, 2) + 0.5 * shakes[:50]
    filled = edited(
        desk, project, "add_mends", mends=[answer(desk, "try_mend", project=project, change=FILL)["mends"][0]]
    )
    for line, area, corners in ((round_line, 25 * np.pi, 0), (square_line, 130, 4)):
        tried = answer(desk, "try_mend", project=filled, change={"kind": "outline", "line": line.tolist()})
        [cut] = tried["mends"]
        outline = np.array(cut["outline"])
        into, out = outline - np.roll(outline, 1, axis=0), np.roll(outline, -1, axis=0) - outline
        turned = np.abs(np.angle((out @ [1, 1j]) / (into @ [1, 1j])))
        assert tried["changed_mm2"] == pytest.approx(area, rel=0.06)
        assert (turned > 0.7).sum() == corners


def waists(*widths: float) -> str:
    """Return a panel of unlike windows in a row, the bars between them as wide as told."""
    windows, left = "", 10.0
    for number, width in enumerate((*widths, 0.0)):
        windows += f"M{left} 10h15v{20 + 3 * number}h-15z"
        left += 15 + width
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{left + 10}mm" height="50mm" '
        f'viewBox="0 0 {left + 10} 50"><path fill-rule="evenodd" d="M0 0H{left + 10}V50H0Z{windows}"/></svg>'
    )


def codes(desk: Desk, project: dict[str, Any]) -> list[str]:
    return [warning["code"] for warning in answer(desk, "design", project=project)["warnings"]]


def test_a_thin_bar_is_left_as_it_is_while_others_are_mended_and_is_found_again_once_that_is_taken_back() -> (
    None
):
    desk = Desk()
    project = opened(desk, waists(0.8, 1.0).encode())
    assert codes(desk, project) == ["thin-bars"]
    first, *_ = [
        each for each in answer(desk, "mends", project=project)["proposals"] if each["choice"] == "leave"
    ]
    left = edited(desk, project, "add_mends", mends=first["mends"], finding="thin-bars")
    assert [each["choice"] for each in answer(desk, "mends", project=left)["proposals"]] == [
        "thicken",
        "leave",
    ]
    mended = edited(desk, left, "mend_all")
    assert codes(desk, mended) == []
    widths = sorted(bar["width_mm"] for bar in answer(desk, "design", project=mended)["bars"])
    assert widths[:2] == [pytest.approx(0.8, abs=0.01), pytest.approx(1.56, abs=0.02)]
    assert answer(desk, "mends", project=mended)["mends"][0]["kind"] == "leave"
    again = edited(desk, mended, "remove_mends", ids=["m1"])
    assert codes(desk, again) == ["thin-bars"]


def test_what_is_found_of_the_whole_is_left_as_it_is_by_its_name() -> None:
    desk = Desk()
    panel = '<path fill-rule="evenodd" d="M0 0H400V400H0ZM10 10v380h380v-380z"/>'
    project = opened(
        desk,
        '<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="400mm" viewBox="0 0 400 400">'
        f"{panel}</svg>".encode(),
    )
    assert codes(desk, project) == ["larger-than-mat"]
    left = edited(desk, project, "add_mends", mends=[{"kind": "leave"}], finding="larger-than-mat")
    assert codes(desk, left) == []


def test_bits_to_be_glued_by_hand_stay_so_when_all_else_is_mended() -> None:
    desk = Desk()
    project = opened(desk, BITS.encode())
    first, *_ = [
        each for each in answer(desk, "mends", project=project)["proposals"] if each["choice"] == "glue"
    ]
    glued = edited(desk, project, "add_mends", mends=first["mends"], finding="loose-bit")
    assert [each["choice"] for each in answer(desk, "mends", project=glued)["proposals"]] == [
        "hold",
        "drop",
        "glue",
    ]
    mended = edited(desk, glued, "mend_all")
    assert codes(desk, mended) == []
    assert len(answer(desk, "design", project=mended)["loose_bits"]) == 1


def test_parts_and_tiny_openings_are_left_as_they_are() -> None:
    desk = Desk()
    panel = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="50mm" viewBox="0 0 100 50">'
        '<path fill-rule="evenodd" d="M0 0H40V50H0ZM10 10v1h1v-1zM50 0H100V50H50Z"/></svg>'
    )
    project = opened(desk, panel.encode())
    assert codes(desk, project) == ["separate-parts", "small-openings"]
    for code in ("separate-parts", "small-openings"):
        told = answer(desk, "mends", project=project)["proposals"]
        [change] = [
            change
            for each in told
            if each["finding"] == code and each["choice"] == "leave"
            for change in each["mends"]
        ]
        project = edited(desk, project, "add_mends", mends=[change], finding=code)
    assert codes(desk, project) == []
    assert answer(desk, "mend_all", project=project)["mends"] == []


def test_a_bar_that_was_drawn_is_drawn_anew_and_widened_in_its_place() -> None:
    desk = Desk()
    project = opened(desk, waists(3).encode())
    bar = {"kind": "bar", "line": [[15, 5], [15, 40]], "width": 2}
    tried = answer(desk, "try_mend", project=project, change=bar)
    project = edited(desk, project, "add_mends", mends=tried["mends"])
    [mend] = answer(desk, "mends", project=project)["mends"]
    assert mend["line"] == [[15, 10], [15, 30]]
    assert mend["width_mm"] == 2
    moved = {"kind": "moved-bar", "line": [[15, 10], [20, 31]], "width": 3}
    tried = answer(desk, "try_mend", project=project, change=moved, id=mend["id"])
    assert tried["repeats"] == []
    assert tried["openings"] == 3
    change = {"id": mend["id"], "change": tried["mends"][0]}
    [anew] = answer(desk, "mends", project=edited(desk, project, "change_mend", **change))["mends"]
    assert anew["id"] == mend["id"]
    assert anew["line"] == [[15, 10], [pytest.approx(19.762, abs=1e-3), 30]]
    assert anew["width_mm"] == 3
    assert refusal(desk, "try_mend", project=project, change=moved, id="gone").startswith("That mend")
