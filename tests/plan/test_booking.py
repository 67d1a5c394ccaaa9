"""Booking takes what a plan takes and gives back what is left: paper is neither lost nor invented."""

import itertools
from collections.abc import Callable
from dataclasses import dataclass, field, replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from made_pieces import SPEED, each, paper, pieces_of
from shapely import box

from peekpaper.papers.paper import Paper, Scrap, Shelf
from peekpaper.papers.stash import restocked
from peekpaper.plan.booking.booking import Cutting, Taken, WholeSheet, booked, taken_back
from peekpaper.plan.make import plans
from peekpaper.plan.plan import Plan, PlanChoices
from peekpaper.project.shelf_sound import refuse_unsound_shelf
from peekpaper.refusal import Refusal

LEAST = 40.0


def new_ids() -> Callable[[], str]:
    counter = itertools.count(1)
    return lambda: f"n{next(counter)}"


def planned(shelf: Shelf, sizes: list[tuple[float, float]], paper_id: str = "p1") -> Plan:
    pieces = pieces_of([box(0, 0, *size) for size in sizes], paper_id)
    *_, plan = plans(pieces, shelf, PlanChoices(rounds=each(0)), SPEED, 0)
    return plan


def drawer(sheets: int | None = 3, scraps: tuple[Scrap, ...] = ()) -> tuple[Shelf, Shelf]:
    """A stash of one paper, and a project's shelf with it."""
    stash = Shelf((replace(paper("q1"), sheets=sheets),), scraps)
    return stash, restocked(Shelf((replace(paper("p1"), stash="q1"),)), stash)


def area_in(stash: Shelf) -> float:
    return sum((one.sheets or 0) * one.sheet_width_mm * one.sheet_height_mm for one in stash.papers) + sum(
        scrap.area_mm2 for scrap in stash.scraps
    )


def area_out(taken: Taken, stock: Paper) -> float:
    """The area that a booking took for good, less that of sheets which nobody had counted."""
    uncounted = (taken.sheets - taken.counted) * stock.sheet_width_mm * stock.sheet_height_mm
    return taken.trims_mm2 + taken.waste_mm2 - uncounted


def test_a_sheet_leaves_and_its_largest_left_over_rectangles_come_back() -> None:
    stash, shelf = drawer()
    after = booked(stash, Cutting(shelf, planned(shelf, [(100, 60)]), None, LEAST), new_ids())
    assert after.stash.papers[0].sheets == 2
    (trim,) = planned(shelf, [(100, 60)]).trims
    assert (trim.width_mm, trim.height_mm) == pytest.approx((76.2, 114.3))
    sizes = sorted((round(one.width_mm, 3), round(one.height_mm, 3)) for one in after.stash.scraps)
    assert sizes == [(190.5, 76.2), (304.8, 228.6)]
    assert after.taken[0].waste_mm2 == pytest.approx(0)


def test_the_next_plan_takes_the_left_over_before_a_new_sheet() -> None:
    stash, shelf = drawer()
    after = booked(stash, Cutting(shelf, planned(shelf, [(100, 60)]), None, LEAST), new_ids()).stash
    plan = planned(restocked(shelf, after), [(90, 60)])
    assert [trim.scrap for trim in plan.trims] != [None]
    assert dict(plan.sheets)["p1"] == 0


def test_a_used_scrap_leaves_and_what_was_taken_back_is_there_as_before() -> None:
    stash, shelf = drawer(scraps=(Scrap("s1", "q1", 90, 80),))
    ids = new_ids()
    after = booked(stash, Cutting(shelf, planned(shelf, [(60, 50)]), None, LEAST), ids)
    assert after.stash.scraps == ()
    assert after.stash.papers[0].sheets == 3
    assert taken_back(after.stash, after.taken, ids) == stash


def test_uncounted_sheets_stay_uncounted_and_their_left_overs_come_nevertheless() -> None:
    stash, shelf = drawer(sheets=None)
    after = booked(stash, Cutting(shelf, planned(shelf, [(100, 60)]), None, LEAST), new_ids())
    assert after.stash.papers[0].sheets is None
    assert len(after.stash.scraps) == 2


def test_the_count_falls_to_none_and_rises_by_no_more_than_it_fell() -> None:
    stash, shelf = drawer(sheets=1)
    plan = planned(shelf, [(250, 250), (250, 250)])
    ids = new_ids()
    after = booked(stash, Cutting(shelf, plan, None, LEAST), ids)
    assert (after.stash.papers[0].sheets, after.taken[0].sheets) == (0, 2)
    assert taken_back(after.stash, after.taken, ids).papers[0].sheets == 1


def test_the_whole_back_takes_a_sheet_of_its_own() -> None:
    stash, shelf = drawer()
    after = booked(
        stash, Cutting(shelf, planned(shelf, [(100, 60)]), WholeSheet("p1", 200, 200), LEAST), new_ids()
    )
    assert after.stash.papers[0].sheets == 1


def test_papers_that_are_not_in_the_stash_or_are_printed_are_not_booked() -> None:
    stash, shelf = drawer()
    strange = Shelf((replace(shelf.papers[0], stash=None),))
    assert (
        booked(stash, Cutting(strange, planned(strange, [(100, 60)]), None, LEAST), new_ids()).stash == stash
    )
    printed = replace(stash, papers=(replace(stash.papers[0], print_margin_mm=6.0),))
    home = restocked(shelf, printed)
    assert booked(printed, Cutting(home, planned(home, [(100, 60)]), None, LEAST), new_ids()).taken == ()


def test_a_scrap_that_another_project_took_meanwhile_is_refused_and_nothing_is_booked() -> None:
    stash, shelf = drawer(scraps=(Scrap("s1", "q1", 90, 80),))
    plan = planned(shelf, [(60, 50)])
    with pytest.raises(Refusal, match="Paper q1"):
        booked(replace(stash, scraps=()), Cutting(shelf, plan, None, LEAST), new_ids())


def test_what_was_cut_from_since_can_not_be_taken_back() -> None:
    stash, shelf = drawer()
    ids = new_ids()
    first = booked(stash, Cutting(shelf, planned(shelf, [(100, 60)]), None, LEAST), ids)
    shelf = restocked(shelf, first.stash)
    second = booked(first.stash, Cutting(shelf, planned(shelf, [(100, 60)]), None, LEAST), ids)
    with pytest.raises(Refusal, match="Paper q1"):
        taken_back(second.stash, first.taken, ids)
    assert area_in(taken_back(taken_back(second.stash, second.taken, ids), first.taken, ids)) == area_in(
        stash
    )


@dataclass
class Ledger:
    """A stash through a sequence of bookings, undos and edits, and the area that must be in it."""

    stash: Shelf
    expected: float
    standing: list[tuple[Taken, ...]] = field(default_factory=list)


SIZES = st.lists(st.tuples(st.integers(20, 140), st.integers(20, 140)), min_size=1, max_size=4)
STEPS = st.one_of(
    st.tuples(st.just("book"), SIZES),
    st.tuples(st.just("undo"), st.integers(0, 5)),
    st.tuples(st.just("buy"), st.integers(1, 3)),
    st.tuples(st.just("throw"), st.integers(0, 5)),
)


@given(st.integers(0, 3), st.lists(STEPS, max_size=6))
@settings(max_examples=25, deadline=None)
def test_area_in_is_area_used_and_scraps_and_waste_whatever_is_done(
    sheets: int, steps: list[tuple[str, object]]
) -> None:
    ids = new_ids()
    wedge = Scrap("wedge", "q1", 150, 120, ((0, 0), (150, 0), (150, 60), (0, 120)))
    stash, shelf = drawer(sheets, (wedge,))
    ledger = Ledger(stash, area_in(stash))
    for name, what in steps:
        stock = ledger.stash.papers[0]
        match name, what:
            case "book", list(sizes):
                shelf = restocked(shelf, ledger.stash)
                after = booked(ledger.stash, Cutting(shelf, planned(shelf, sizes), None, LEAST), ids)
                ledger.stash = after.stash
                ledger.expected -= sum(area_out(one, stock) for one in after.taken)
                ledger.standing.append(after.taken)
            case "undo", int(at) if at < len(ledger.standing):
                try:
                    ledger.stash = taken_back(ledger.stash, ledger.standing[at], ids)
                except Refusal:
                    continue
                ledger.expected += sum(area_out(one, stock) for one in ledger.standing.pop(at))
            case "buy", int(more):
                ledger.stash = replace(
                    ledger.stash, papers=(replace(stock, sheets=(stock.sheets or 0) + more),)
                )
                ledger.expected += more * stock.sheet_width_mm * stock.sheet_height_mm
            case "throw", int(at) if at < len(ledger.stash.scraps):
                scrap = ledger.stash.scraps[at]
                ledger.stash = replace(
                    ledger.stash, scraps=tuple(one for one in ledger.stash.scraps if one is not scrap)
                )
                ledger.expected -= scrap.area_mm2
        refuse_unsound_shelf(ledger.stash)
        assert area_in(ledger.stash) == pytest.approx(ledger.expected, abs=0.01)


def test_a_trim_that_lies_turned_on_a_scrap_leaves_what_it_leaves() -> None:
    stash, shelf = drawer(scraps=(Scrap("begun", "q1", 260, 88.9),))
    plan = planned(shelf, [(20, 20), (37, 52), (50, 120)])
    assert [(trim.scrap, trim.width_mm, trim.height_mm) for trim in plan.trims] == [("begun", 88.9, 177.8)]
    after = booked(stash, Cutting(shelf, plan, None, LEAST), new_ids())
    assert [(one.width_mm, one.height_mm) for one in after.stash.scraps] == [(82.2, 88.9)]
    assert after.taken[0].waste_mm2 == pytest.approx(0, abs=0.01)


def test_a_scrap_of_any_shape_is_taken_whole_and_comes_back_as_it_was() -> None:
    wedge = Scrap("wedge", "q1", 150, 120, ((0, 0), (150, 0), (150, 60), (0, 120)))
    stash, shelf = drawer(scraps=(wedge,))
    after = booked(stash, Cutting(shelf, planned(shelf, [(30, 20)]), None, LEAST), new_ids())
    assert after.stash.scraps == ()
    assert after.taken[0].used == (wedge,)
    assert after.taken[0].trims_mm2 == pytest.approx(13500)
    assert taken_back(after.stash, after.taken, new_ids()) == stash


def test_pieces_that_need_a_whole_sheet_leave_nothing() -> None:
    stash, shelf = drawer()
    plan = planned(shelf, [(290, 290)])
    after = booked(stash, Cutting(shelf, plan, None, LEAST), new_ids())
    assert after.stash.scraps == ()
