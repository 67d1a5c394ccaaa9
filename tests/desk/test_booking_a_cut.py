"""Booking through the desk: the stash after a cut, the plan that stays as it was cut, and back."""

import copy
import json
from typing import Any

import pytest
from test_planning import answer, for_each_paper, layout, papered

from peekpaper.desk.desk import Desk


@pytest.fixture
def cut() -> tuple[Desk, dict[str, Any], dict[str, Any], dict[str, Any]]:
    """A desk, a project with its paper in the stash and a plan, the stash, and that plan."""
    desk = Desk()
    project = papered(desk)
    paper = project["shelf"]["papers"][0]
    paper["sheets"] = 2
    laid = answer(desk, "lay_in", project=project, stash={"papers": [], "scraps": []}, papers=[paper["id"]])
    paper["stash"] = laid["links"][paper["id"]]
    project["plan"]["rounds"] = for_each_paper(project, 1)
    return desk, project, laid["stash"], answer(desk, "plan", project=project, seconds=600)


def test_a_cut_plan_stays_though_its_sheet_has_left_the_stash_and_its_left_overs_have_come(cut: Any) -> None:
    desk, project, stash, plan = cut
    booked = answer(desk, "book", project=project, stash=stash)
    assert booked["stash"]["papers"][0]["sheets"] == 1
    assert booked["stash"]["scraps"]
    after = answer(desk, "edit", project=project, edit="restock", to={"stash": booked["stash"]})["project"]
    after["source"] = project["source"]
    assert after["shelf"]["scraps"]
    anew = copy.deepcopy(after)
    anew["plan"]["rounds"] = for_each_paper(project, 1)
    assert answer(Desk(), "plan", project=anew, seconds=600)["trims"][0]["scrap"], (
        "not cut: taken from scraps"
    )
    after["cuts"] = [booked["cut"]]
    after["plan"]["rounds"] = None
    assert layout(answer(Desk(), "plan", project=after, seconds=600)) == layout(plan)


def test_a_booking_is_taken_back_as_if_it_had_not_been(cut: Any) -> None:
    desk, project, stash, _ = cut
    booked = answer(desk, "book", project=project, stash=stash)
    back = answer(desk, "take_back", stash=booked["stash"], taken=booked["taken"])
    assert back["stash"] == stash


def test_papers_that_are_not_in_the_stash_give_nothing_to_book(cut: Any) -> None:
    desk, project, _, _ = cut
    *_, last = desk.steps("book", json.dumps({"project": project, "stash": {"papers": [], "scraps": []}}))
    assert json.loads(last.json)["code"] == "nothing-to-book"


def test_a_history_of_cuts_from_elsewhere_is_read_and_one_that_is_none_refused(cut: Any) -> None:
    desk, project, stash, _ = cut
    taken = answer(desk, "book", project=project, stash=stash)["taken"]
    told = {"id": "b", "when": 1e12, "project": "p", "name": "n", "colourway": "c", "undone": False}
    history = {"bookings": [{**told, "taken": taken}]}
    assert answer(desk, "read_history", history=history) == history
    for broken in (None, {"bookings": [{**told, "taken": [{**taken[0], "sheets": "many"}]}]}):
        *_, last = desk.steps("read_history", json.dumps({"history": broken}))
        assert json.loads(last.json)["code"] == "not-kept"
