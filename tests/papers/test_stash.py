"""One stash for all projects: what is laid in comes out the same, once, and projects keep in step with it."""

import itertools
from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st
from made_projects import shelves

from peekpaper.papers import stash as stashes
from peekpaper.papers.paper import Direction, Paper, Scrap, Shelf
from peekpaper.project.shelf_sound import refuse_unsound_shelf

GORSE = Paper("p1", "Gorse", "#f2c14e", sheets=2)
THRIFT = Paper("p2", "Thrift", "#d98c94", collection="Cliff path")
SHELF = Shelf((GORSE, THRIFT), (Scrap("s1", "p2", 80, 60), Scrap("s2", "p2", 50, 40)))


def new_ids():
    counter = itertools.count(1)
    return lambda: f"new{next(counter)}"


def linked(shelf: Shelf, links) -> Shelf:
    return replace(
        shelf, papers=tuple(replace(one, stash=links.get(one.id, one.stash)) for one in shelf.papers)
    )


def told(shelf: Shelf) -> list[object]:
    """All that a person told of papers and scraps, whatever their ids."""
    return sorted(
        repr(
            (
                replace(paper, id="", stash=None),
                sorted((one.width_mm, one.height_mm) for one in shelf.scraps if one.paper == paper.id),
            )
        )
        for paper in shelf.papers
    )


def test_what_was_laid_in_from_one_project_lies_on_the_shelf_of_the_next() -> None:
    laid = stashes.laid_in(Shelf(), SHELF, ["p1", "p2"], new_ids())
    assert told(stashes.first_shelf(laid.stash)) == told(SHELF)


@given(shelves())
def test_any_shelf_comes_out_of_the_stash_as_it_went_in_and_goes_in_once(shelf: Shelf) -> None:
    shelf = replace(shelf, papers=tuple(replace(one, stash=None) for one in shelf.papers))
    ids = [paper.id for paper in shelf.papers]
    laid = stashes.laid_in(Shelf(), shelf, ids, new_ids())
    refuse_unsound_shelf(laid.stash)
    again = stashes.laid_in(laid.stash, linked(shelf, laid.links), ids, new_ids())
    assert told(again.stash) == told(laid.stash)
    out = stashes.with_papers(Shelf(), laid.stash, [paper.id for paper in laid.stash.papers])
    refuse_unsound_shelf(out)
    assert told(out) == told(laid.stash)
    assert stashes.with_papers(
        out, laid.stash, [paper.id for paper in laid.stash.papers]
    ) == stashes.restocked(out, laid.stash)


@given(shelves(), shelves())
def test_a_shelf_that_is_restocked_keeps_its_own_papers_and_every_id(shelf: Shelf, stash: Shelf) -> None:
    after = stashes.restocked(shelf, stash)
    refuse_unsound_shelf(after)
    assert [paper.id for paper in after.papers] == [paper.id for paper in shelf.papers]
    assert stashes.restocked(after, stash) == after
    known = {paper.id for paper in stash.papers}
    for before, now in zip(shelf.papers, after.papers, strict=True):
        if before.stash not in known:
            assert now == before


def test_a_paper_changed_in_the_stash_changes_on_every_shelf_and_tells_where_a_plan_is_touched() -> None:
    laid = stashes.laid_in(Shelf(), SHELF, ["p1", "p2"], new_ids())
    shelf = linked(SHELF, laid.links)
    smaller = replace(laid.stash.papers[0], name="Gorse in June", sheet_width_mm=152.4)
    stash = replace(laid.stash, papers=(smaller, *laid.stash.papers[1:]))
    after = stashes.restocked(shelf, stash)
    assert after.papers[0].name == "Gorse in June"
    assert after.papers[1] == shelf.papers[1]
    assert stashes.touches_plan(shelf, after, {"p1"})
    assert not stashes.touches_plan(shelf, after, {"p2"}), "another paper's plan is the same"
    renamed = replace(laid.stash, papers=(replace(laid.stash.papers[0], name="Whin"), *laid.stash.papers[1:]))
    assert not stashes.touches_plan(shelf, stashes.restocked(shelf, renamed), {"p1", "p2"}), (
        "a name changes no plan"
    )


def test_a_paper_changed_in_a_project_changes_in_the_stash_and_its_scraps_with_it() -> None:
    laid = stashes.laid_in(Shelf(), SHELF, ["p1", "p2"], new_ids())
    shelf = linked(SHELF, laid.links)
    shelf = Shelf((replace(shelf.papers[0], sheets=1), shelf.papers[1]), (Scrap("s1", "p1", 30, 20),))
    again = stashes.laid_in(laid.stash, shelf, ["p1"], new_ids())
    assert [paper.sheets for paper in again.stash.papers] == [1, None]
    sizes = sorted((scrap.width_mm, scrap.height_mm) for scrap in again.stash.scraps)
    assert sizes == [(30, 20), (50, 40), (80, 60)]


def test_a_project_from_elsewhere_keeps_its_papers_though_the_stash_does_not_know_them() -> None:
    shelf = Shelf((replace(GORSE, stash="elsewhere"),), (Scrap("s1", "p1", 30, 20),))
    assert stashes.restocked(shelf, stashes.laid_in(Shelf(), SHELF, ["p2"], new_ids()).stash) == shelf


def test_what_is_used_up_is_not_laid_on_a_new_shelf() -> None:
    papers = (replace(GORSE, sheets=0), replace(THRIFT, sheets=0))
    laid = stashes.laid_in(Shelf(), Shelf(papers, (Scrap("s1", "p2", 30, 20),)), ["p1", "p2"], new_ids())
    assert [paper.name for paper in stashes.first_shelf(laid.stash).papers] == ["Thrift"]
    assert stashes.is_used_up(laid.stash.papers[0], laid.stash.scraps)


def test_papers_go_from_light_to_dark_and_around_the_wheel() -> None:
    names = {
        "red": "#c83a32", "yellow": "#e8c23a", "green": "#3f9a4c", "blue": "#3a5fc8",
        "white": "#fafafa", "grey": "#808080", "black": "#101010",
    }  # fmt: skip
    papers = [Paper(name, name, colour) for name, colour in names.items()]
    assert stashes.in_colour_order(papers, stashes.ColourOrder.WHEEL) == (
        "red", "yellow", "green", "blue", "white", "grey", "black",
    )  # fmt: skip
    light = stashes.in_colour_order(papers, stashes.ColourOrder.LIGHT)
    assert (light[0], light[1], light[-1]) == ("white", "yellow", "black")


@given(st.lists(st.sampled_from(list(Direction)), max_size=5))
def test_a_turned_direction_touches_the_plan(directions: list[Direction]) -> None:
    for direction in directions:
        after = Shelf((replace(GORSE, direction=direction),))
        assert stashes.touches_plan(Shelf((GORSE,)), after, {"p1"}) == (direction is not GORSE.direction)


def test_a_paper_runs_low_with_its_last_sheet_and_never_where_nobody_counts() -> None:
    assert [stashes.runs_low(replace(GORSE, sheets=sheets)) for sheets in (0, 1, 2, None)] == [
        True, True, False, False,
    ]  # fmt: skip
