"""What holds for every plan, whatever is asked of it."""

import math
from dataclasses import replace

import pytest
from english import english
from hypothesis import given, settings
from hypothesis import strategies as st
from made_pieces import SPEED, each, in_steps, paper, petal, pieces_of, promises_broken, star, wave
from shapely import Polygon, affinity

from peekpaper.papers.paper import Direction, Scrap, Shelf
from peekpaper.plan.make import plans
from peekpaper.plan.plan import MatUse, PaperRounds, PiecePin, PieceToPlace, Plan, PlanChoices, TrimShape

outlines = st.builds(
    affinity.rotate,
    st.one_of(
        st.builds(star, st.integers(3, 7), st.floats(8, 20), st.floats(3, 7)),
        st.builds(petal, st.floats(10, 45), st.floats(4, 18)),
        st.builds(wave, st.floats(15, 50), st.floats(4, 10), st.floats(0, 10)),
    ),
    st.floats(0, 360),
)
choices_made = st.builds(
    PlanChoices,
    trim_step_mm=st.sampled_from([12.7, 6.35, 10.0, 5.0, None]),
    spacing_mm=st.sampled_from([0.0, 0.5, 1.5, 4.0]),
    margin_mm=st.sampled_from([0.0, 3.0, 6.0]),
    trim_shape=st.sampled_from(list(TrimShape)),
    mat_width_mm=st.sampled_from([210.0, 304.8]),
    mat_height_mm=st.sampled_from([297.0, 304.8, 609.6]),
    mat_rim_mm=st.sampled_from([0.0, 5.0]),
    mat_grid_mm=st.sampled_from([10.0, 12.7]),
    mat_use=st.sampled_from(list(MatUse)),
    seed=st.integers(0, 5),
    rounds=st.just(each(3)),
)
papers = st.lists(st.sampled_from(list(Direction)), min_size=1, max_size=3)


@st.composite
def tasks(draw: st.DrawFn) -> tuple[list[PieceToPlace], Shelf, PlanChoices]:
    shelf = Shelf(tuple(paper(f"p{k}", direction) for k, direction in enumerate(draw(papers), start=1)))
    pieces: list[PieceToPlace] = []
    for stock in shelf.papers:
        drawn = draw(st.lists(outlines, min_size=1, max_size=7))
        pieces += pieces_of(drawn, stock.id, first=len(pieces) + 1)
    return pieces, shelf, draw(choices_made)


@settings(max_examples=30)
@given(tasks())
def test_every_piece_lies_once_clear_of_others_inside_the_margin_and_trims_lie_on_grid_lines(
    task: tuple[list[PieceToPlace], Shelf, PlanChoices],
) -> None:
    pieces, shelf, choices = task
    last: Plan | None = None
    for plan in plans(pieces, shelf, choices, SPEED, 0):
        if plan is not None and plan is not last:
            assert promises_broken(plan, pieces, shelf, choices) == []
        last = plan
    assert last is not None
    assert last.complete


@settings(max_examples=20)
@given(tasks(), st.lists(st.tuples(st.floats(30, 200), st.floats(30, 200)), max_size=3), st.data())
def test_promises_hold_with_scraps_and_when_a_piece_that_was_laid_by_hand_gets_another_paper(
    task: tuple[list[PieceToPlace], Shelf, PlanChoices], sizes: list[tuple[float, float]], data: st.DataObject
) -> None:
    pieces, shelf, choices = task
    ids = st.sampled_from([stock.id for stock in shelf.papers])
    shapes = st.sampled_from(((), ((0, 0), (1, 0), (1, 0.4), (0.5, 1), (0, 1)), ((0.5, 0), (1, 1), (0, 0.8))))
    scraps = tuple(
        Scrap(f"s{number}", data.draw(ids), *size, tuple((x * size[0], y * size[1]) for x, y in shape))
        for number, size in enumerate(sizes)
        for shape in [data.draw(shapes)]
    )
    shelf = replace(shelf, scraps=scraps)
    *_, plan = plans(pieces, shelf, choices, SPEED, 0)
    trim = data.draw(st.sampled_from(plan.trims))
    laid = data.draw(st.sampled_from(trim.pieces))
    pin = PiecePin(laid.number, trim.id, laid.turn_deg, laid.x_mm, laid.y_mm)
    other = data.draw(ids)
    moved = [replace(piece, paper=other) if piece.number == laid.number else piece for piece in pieces]
    *_, again = plans(moved, shelf, replace(choices, piece_pins=(pin,)), SPEED, 0)
    for made, asked in ((plan, pieces), (again, moved)):
        assert promises_broken(made, asked, shelf, choices) == []
        used = {trim.scrap: (trim.width_mm, trim.height_mm) for trim in made.trims if trim.scrap}
        assert len(used) == sum(trim.scrap is not None for trim in made.trims)
        for scrap in scraps:
            # A scrap too large for the mat is cut to what the mat takes.
            sides = zip(
                sorted(used.get(scrap.id, (0.0, 0.0))), sorted((scrap.width_mm, scrap.height_mm)), strict=True
            )
            assert all(side <= whole + 1e-6 for side, whole in sides)


@pytest.mark.parametrize("step", [12.7, 6.35, 10.0, 5.0])
def test_sides_of_trims_are_whole_steps(step: float) -> None:
    pieces = pieces_of([star(5, 15, 7), petal(40, 12), wave(40, 6, 8), star(4, 12, 5)])
    *_, plan = plans(pieces, Shelf((paper(),)), PlanChoices(trim_step_mm=step, rounds=each(20)), SPEED, 0)
    assert all(in_steps(side, step) for trim in plan.trims for side in (trim.width_mm, trim.height_mm))


def test_free_trims_end_at_the_margin_round_their_pieces() -> None:
    pieces = pieces_of([star(5, 15, 7), petal(40, 12), wave(40, 6, 8)])
    choices = PlanChoices(trim_step_mm=None, rounds=each(20))
    *_, plan = plans(pieces, Shelf((paper(),)), choices, SPEED, 0)
    [trim] = plan.trims
    assert max(piece.outline.bounds[2] for piece in trim.pieces) == pytest.approx(
        trim.width_mm - 3.0, abs=0.05
    )
    assert max(piece.outline.bounds[3] for piece in trim.pieces) == pytest.approx(
        trim.height_mm - 3.0, abs=0.05
    )


def test_the_same_seed_and_rounds_give_the_same_plan() -> None:
    pieces = pieces_of([affinity.rotate(star(3 + k % 4, 10 + k, 6), 17 * k) for k in range(12)])
    choices = PlanChoices(rounds=each(25), seed=3)
    *_, first = plans(pieces, Shelf((paper(),)), choices, SPEED, 0)
    *_, second = plans(pieces, Shelf((paper(),)), choices, SPEED, 1000)
    assert first == second
    assert first.rounds == second.rounds
    assert all(one.rounds <= 25 for one in first.rounds)


def test_plans_get_no_worse_and_only_the_last_is_complete() -> None:
    pieces = pieces_of([affinity.rotate(wave(30 + k, 6, 8), 23 * k) for k in range(14)])
    seen: list[Plan] = []
    for plan in plans(pieces, Shelf((paper(),)), PlanChoices(rounds=each(60)), SPEED, 0):
        if plan is not None and (not seen or plan is not seen[-1]):
            seen.append(plan)
    areas = [plan.paper_area_mm2[0][1] for plan in seen]
    assert areas == sorted(areas, reverse=True)
    assert [plan.complete for plan in seen] == [False] * (len(seen) - 1) + [True]
    assert areas[-1] < areas[0]


@pytest.mark.parametrize(
    ("shape", "is_so"),
    [
        (TrimShape.LONG, lambda ratio: ratio >= 2.5 - 1e-6),
        (TrimShape.SQUARE, lambda ratio: ratio <= 1.25 + 1e-6),
    ],
)
def test_trims_are_long_or_nearly_square_by_choice(shape: TrimShape, is_so: object) -> None:
    pieces = pieces_of([petal(25 + k, 10) for k in range(16)])
    choices = PlanChoices(trim_shape=shape, trim_step_mm=5.0, rounds=each(20))
    *_, plan = plans(pieces, Shelf((paper(),)), choices, SPEED, 0)
    [trim] = plan.trims
    ratio = max(trim.width_mm, trim.height_mm) / min(trim.width_mm, trim.height_mm)
    assert callable(is_so)
    assert is_so(ratio)


def test_a_long_trim_that_the_sheet_has_no_room_for_takes_no_whole_sheet() -> None:
    pieces, shelf = pieces_of([petal(60, 26)] * 28), Shelf((paper(),))
    choices = PlanChoices(trim_shape=TrimShape.LONG, rounds=each(4))
    *_, plan = plans(pieces, shelf, choices, SPEED, 0)
    (trim,) = plan.trims
    assert promises_broken(plan, pieces, shelf, choices) == []
    assert trim.width_mm * trim.height_mm < 0.7 * 304.8**2
    assert max(trim.width_mm, trim.height_mm) > 1.2 * min(trim.width_mm, trim.height_mm)


def test_pieces_that_need_more_than_one_sheet_get_several_trims() -> None:
    pieces = pieces_of([star(12, 45, 42) for _ in range(12)])
    shelf = Shelf((paper(side_mm=200.0),))
    *_, plan = plans(pieces, shelf, PlanChoices(rounds=each(5)), SPEED, 0)
    assert len(plan.trims) >= 3
    assert dict(plan.sheets)["p1"] == len(plan.trims)
    assert promises_broken(plan, pieces, shelf, PlanChoices()) == []


def test_too_few_sheets_are_a_warning_with_both_numbers() -> None:
    stock = paper(side_mm=200.0)
    scarce = type(stock)(
        stock.id, "Blue dots", stock.colour, sheet_width_mm=200.0, sheet_height_mm=200.0, sheets=1
    )
    *_, plan = plans(
        pieces_of([star(12, 45, 42) for _ in range(8)]),
        Shelf((scarce,)),
        PlanChoices(rounds=each(0)),
        SPEED,
        0,
    )
    needed = dict(plan.sheets)["p1"]
    assert needed > 1
    assert [english(warning) for warning in plan.warnings] == [
        f"Blue dots takes {needed} sheets, and you have 1: give some of its pieces another paper.",
    ]


def test_the_plain_way_gives_each_paper_full_sheets_on_mats_of_its_own() -> None:
    shelf = Shelf((paper("p1"), paper("p2")))
    pieces = pieces_of([petal(30, 10)], "p1") + pieces_of([petal(30, 10)], "p2", first=2)
    choices = PlanChoices(mat_use=MatUse.SHEETS, rounds=each(0))
    *_, plan = plans(pieces, shelf, choices, SPEED, 0)
    assert [(trim.width_mm, trim.height_mm) for trim in plan.trims] == [(304.8, 304.8)] * 2
    assert sorted(trim.mat for trim in plan.trims) == [1, 2]


def test_figures_add_up() -> None:
    pieces = pieces_of([petal(30, 10), star(5, 12, 5)])
    *_, plan = plans(pieces, Shelf((paper(),)), PlanChoices(rounds=each(0)), SPEED, 0)
    length = sum(piece.outline.length for piece in pieces)
    assert math.isclose(plan.cut_length_mm, length)
    assert math.isclose(plan.seconds, length / SPEED.mm_per_second + 2 * SPEED.seconds_per_piece)
    [trim] = plan.trims
    assert plan.paper_area_mm2 == (("p1", trim.width_mm * trim.height_mm),)
    assert plan.sheets == (("p1", 1),)


def test_nothing_to_place_is_an_empty_complete_plan() -> None:
    [plan] = plans([], Shelf((paper(),)), PlanChoices(), SPEED, 5)
    assert plan.complete
    assert plan.trims == plan.mats == ()


def test_a_square_of_exactly_the_room_is_placed() -> None:
    square = Polygon([(0, 0), (94, 0), (94, 94), (0, 94)])
    choices = PlanChoices(trim_step_mm=10.0, rounds=each(2))
    *_, plan = plans(pieces_of([square]), Shelf((paper(side_mm=100.0),)), choices, SPEED, 0)
    [trim] = plan.trims
    assert (trim.width_mm, trim.height_mm) == (100.0, 100.0)


def test_pieces_that_overflow_a_sheet_at_first_are_gathered_onto_it() -> None:
    mixed = [star(3 + k % 4, 15, 7) if k % 2 else wave(34, 6, 8) for k in range(48)]
    pieces = pieces_of([affinity.rotate(outline, 37 * k) for k, outline in enumerate(mixed)])
    shelf = Shelf((paper(side_mm=200.0),))
    found = [plan for plan in plans(pieces, shelf, PlanChoices(rounds=each(12)), SPEED, 0) if plan]
    first, last = found[0], found[-1]
    assert len(first.trims) == 2
    assert len(last.trims) == 1
    assert promises_broken(last, pieces, shelf, PlanChoices()) == []


def test_a_plan_of_papers_that_got_different_numbers_of_rounds_comes_again() -> None:
    """So it does whichever papers were worked on at once, and wherever the time ran out."""
    shelf = Shelf((paper("p1"), paper("p2"), paper("p3")))
    outlines = [affinity.rotate(wave(24 + k, 6, 8), 23 * k) for k in range(9)]
    pieces = [
        piece
        for number, stock in enumerate(shelf.papers)
        for piece in pieces_of(outlines, stock.id, first=1 + 9 * number)
    ]
    asked = (PaperRounds("p3", 9), PaperRounds("p1", 2))
    *_, plan = plans(pieces, shelf, PlanChoices(rounds=asked), SPEED, 0)
    assert plan.rounds == (PaperRounds("p1", 2), PaperRounds("p2", 0), PaperRounds("p3", 9))
    for stock, done in zip(shelf.papers, plan.rounds, strict=True):
        own = [piece for piece in pieces if piece.paper == stock.id]
        *_, alone = plans(own, shelf, PlanChoices(rounds=(done,)), SPEED, 0)
        together = [trim for trim in plan.trims if trim.paper == stock.id]
        assert [(trim.id, trim.pieces) for trim in alone.trims] == [
            (trim.id, trim.pieces) for trim in together
        ]


def overflowing() -> tuple[list[PieceToPlace], Shelf]:
    """Pieces that need more than a sheet at first, and less once they are gathered."""
    mixed = [star(3 + k % 4, 15, 7) if k % 2 else wave(34, 6, 8) for k in range(24)]
    pieces = pieces_of([affinity.rotate(outline, 37 * k) for k, outline in enumerate(mixed)])
    return pieces, Shelf((paper(side_mm=143.0),))


def test_a_search_whose_time_runs_out_in_a_round_gives_the_plan_of_the_rounds_before(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    pieces, shelf = overflowing()
    looks = 0

    def clock() -> float:
        nonlocal looks
        looks += 1
        return looks

    monkeypatch.setattr("peekpaper.plan.by_turns.time.monotonic", clock)
    changes, last = [], None
    for plan in plans(pieces, shelf, PlanChoices(), SPEED, 160):
        if plan is not None and plan is not last:
            changes.append(looks)
        last = plan
    assert len(changes) >= 3, "nothing was gathered"
    for end in {change + late for change in changes[1:-1] for late in (-2, -1, 0, 1)}:
        looks = 0
        *_, stopped = plans(pieces, shelf, PlanChoices(), SPEED, end)
        *_, again = plans(pieces, shelf, PlanChoices(rounds=stopped.rounds), SPEED, 0)
        assert stopped == again
