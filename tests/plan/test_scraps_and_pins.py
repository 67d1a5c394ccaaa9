"""Scraps come first; what was laid by hand stays, and what contradicts itself is refused with a sentence."""

from dataclasses import replace

import pytest
import shapely
from made_pieces import SPEED, each, paper, petal, pieces_of, promises_broken, star
from shapely import affinity

from peekpaper.papers.paper import Direction, Scrap, Shelf
from peekpaper.plan.hand.nearest import WantedPlacement, nearest_piece_placement
from peekpaper.plan.make import plans
from peekpaper.plan.plan import MatUse, PiecePin, PieceToPlace, Plan, PlanChoices, TrimPin
from peekpaper.refusal import Refusal

PIECES = pieces_of([petal(30, 10), star(5, 15, 7), petal(20, 8), star(4, 10, 5)])


def last_plan(pieces: list[PieceToPlace], shelf: Shelf, choices: PlanChoices) -> Plan:
    *_, plan = plans(pieces, shelf, choices, SPEED, 0)
    assert promises_broken(plan, pieces, shelf, choices) == []
    return plan


def test_the_smallest_scrap_that_holds_all_pieces_is_used() -> None:
    scraps = (Scrap("big", "p1", 200, 200), Scrap("tiny", "p1", 20, 20), Scrap("fitting", "p1", 90, 60))
    plan = last_plan(PIECES, Shelf((paper(),), scraps), PlanChoices(rounds=each(2)))
    assert [(trim.scrap, trim.width_mm, trim.height_mm) for trim in plan.trims] == [("fitting", 90, 60)]
    assert plan.sheets == (("p1", 0),)


def test_a_scrap_that_holds_some_pieces_is_used_before_the_sheet() -> None:
    scraps = (Scrap("small", "p1", 30, 30),)
    plan = last_plan(PIECES, Shelf((paper(),), scraps), PlanChoices(rounds=each(2)))
    assert [trim.scrap for trim in plan.trims] == ["small", None]


def test_no_more_is_cut_from_a_begun_sheet_than_is_needed_and_it_stays_within_it() -> None:
    shelf = Shelf((paper(),), (Scrap("begun", "p1", 300, 55),))
    for rounds in (0, 6):
        [trim] = last_plan(PIECES, shelf, PlanChoices(rounds=each(rounds))).trims
        assert trim.scrap == "begun"
        assert trim.width_mm < 110
        assert trim.height_mm <= 55


def test_a_begun_sheet_is_not_blown_up_to_a_full_one_where_mats_take_full_sheets() -> None:
    shelf = Shelf((paper(),), (Scrap("begun", "p1", 200, 80),))
    plan = last_plan(PIECES, shelf, PlanChoices(rounds=each(0), mat_use=MatUse.SHEETS))
    assert [trim.scrap for trim in plan.trims] == ["begun"]
    assert plan.trims[0].height_mm <= 80


def test_a_trim_of_a_begun_sheet_stays_one_when_it_is_moved_by_hand() -> None:
    shelf = Shelf((paper(),), (Scrap("begun", "p1", 200, 80),))
    [trim] = last_plan(PIECES, shelf, PlanChoices(rounds=each(0))).trims
    pin = TrimPin(trim.id, "p1", trim.width_mm, trim.height_mm, 1, 127.0, 63.5, False)
    [moved] = last_plan(PIECES, shelf, PlanChoices(rounds=each(0), trim_pins=(pin,))).trims
    assert (moved.scrap, moved.width_mm, moved.height_mm) == ("begun", trim.width_mm, trim.height_mm)


L_SHAPE = ((0.0, 0.0), (120.0, 0.0), (120.0, 45.0), (45.0, 45.0), (45.0, 120.0), (0.0, 120.0))


def test_pieces_are_laid_into_a_scrap_of_any_shape_with_their_margin() -> None:
    shelf = Shelf((paper(),), (Scrap("torn", "p1", 120, 120, L_SHAPE),))
    pieces = pieces_of([petal(30, 10), star(5, 15, 7), petal(20, 8), star(4, 10, 5)] * 2)
    plan = last_plan(pieces, shelf, PlanChoices(rounds=each(2)))
    [trim] = plan.trims
    assert (trim.scrap, trim.width_mm, trim.height_mm) == ("torn", 120, 120)
    assert trim.outline is not None
    assert trim.outline.equals(shapely.Polygon(L_SHAPE))
    laid = trim.pieces[0]
    # By hand too: what would lie where the scrap is not comes to lie where it is.
    found = nearest_piece_placement(
        trim, pieces[0], paper(), PlanChoices(), WantedPlacement(laid.turn_deg, 90, 90)
    )
    assert found is not None
    assert trim.outline.buffer(-2.99).covers(found.outline)
    pin = TrimPin(trim.id, "p1", 120, 120, 1, 127.0, 63.5, True)
    [moved] = last_plan(pieces, shelf, PlanChoices(rounds=each(0), trim_pins=(pin,))).trims
    assert (moved.scrap, moved.turned) == ("torn", True)


def test_a_scrap_of_any_shape_that_the_mat_does_not_take_whole_stays_in_the_drawer() -> None:
    outline = tuple((3 * x, 3 * y) for x, y in L_SHAPE)
    shelf = Shelf((paper(),), (Scrap("torn", "p1", 360, 360, outline),))
    assert [trim.scrap for trim in last_plan(PIECES, shelf, PlanChoices(rounds=each(0))).trims] == [None]


def test_scraps_of_other_papers_stay_where_they_are() -> None:
    plan = last_plan(
        PIECES, Shelf((paper(),), (Scrap("other", "p2", 200, 200),)), PlanChoices(rounds=each(0))
    )
    assert [trim.scrap for trim in plan.trims] == [None]


def test_a_pinned_piece_keeps_its_place_and_the_rest_is_laid_round_it() -> None:
    pin = PiecePin(2, "p1-1", 30.0, 30.0, 25.0)
    plan = last_plan(PIECES, Shelf((paper(),)), PlanChoices(rounds=each(15), piece_pins=(pin,)))
    [trim] = plan.trims
    placed = next(piece for piece in trim.pieces if piece.number == 2)
    assert (placed.turn_deg, placed.x_mm, placed.y_mm) == pytest.approx((30.0, 30.0, 25.0))


def test_a_pinned_trim_keeps_its_size_and_its_place_on_the_mat() -> None:
    pin = TrimPin("p1-1", "p1", 101.6, 76.2, 1, 127.0, 63.5, True)
    plan = last_plan(PIECES, Shelf((paper(),)), PlanChoices(rounds=each(3), trim_pins=(pin,)))
    [trim] = plan.trims
    assert (trim.id, trim.width_mm, trim.height_mm) == ("p1-1", 101.6, 76.2)
    assert (trim.mat, trim.x_mm, trim.y_mm, trim.turned) == (1, 127.0, 63.5, True)


def test_what_a_pinned_trim_cannot_hold_goes_to_another_trim() -> None:
    pin = TrimPin("p1-1", "p1", 38.1, 38.1, 1, 0.0, 0.0, False)
    plan = last_plan(PIECES, Shelf((paper(),)), PlanChoices(rounds=each(3), trim_pins=(pin,)))
    assert [trim.id for trim in plan.trims] == ["p1-1", "p1-2"]


def test_pins_of_pieces_that_changed_their_paper_count_no_more() -> None:
    pin = PiecePin(2, "p2-1", 0.0, 30.0, 25.0)
    shelf = Shelf((paper("p1"), paper("p2")))
    plan = last_plan(PIECES, shelf, PlanChoices(rounds=each(0), piece_pins=(pin,)))
    assert {trim.paper for trim in plan.trims} == {"p1"}


CONTRADICTIONS = {
    "over each other": ([PiecePin(1, "p1-1", 0, 30, 30), PiecePin(2, "p1-1", 0, 32, 30)], [], "too close"),
    "nearer than the spacing": (
        [PiecePin(2, "p1-1", 0, 30, 30), PiecePin(4, "p1-1", 0, 55.5, 30)],
        [],
        "too close",
    ),
    "twice": ([PiecePin(1, "p1-1", 0, 30, 30), PiecePin(1, "p1-1", 0, 90, 30)], [], "two places"),
    "past the margin": ([PiecePin(1, "p1-1", 0, 10, 30)], [], "inside the margins"),
    "trims over each other": (
        [],
        [
            TrimPin("p1-1", "p1", 50.8, 50.8, 1, 0, 0, False),
            TrimPin("p1-2", "p1", 50.8, 50.8, 1, 38.1, 38.1, False),
        ],
        "over each other",
    ),
    "trim off the grid": ([], [TrimPin("p1-1", "p1", 50.8, 50.8, 1, 5.0, 0, False)], "grid lines"),
    "trim off the mat": ([], [TrimPin("p1-1", "p1", 50.8, 50.8, 1, 254.0, 254.0 + 12.7, False)], "mat can't"),
    "piece outside its trim": (
        [PiecePin(2, "p1-1", 0, 60, 25)],
        [TrimPin("p1-1", "p1", 50.8, 50.8, 1, 0, 0, False)],
        "can't hold it",
    ),
}


@pytest.mark.parametrize("case", CONTRADICTIONS)
def test_contradictory_pins_are_refused(case: str) -> None:
    piece_pins, trim_pins, words = CONTRADICTIONS[case]
    choices = PlanChoices(piece_pins=tuple(piece_pins), trim_pins=tuple(trim_pins))
    with pytest.raises(Refusal, match=words):
        next(plans(PIECES, Shelf((paper(),)), choices, SPEED, 1))


def test_a_pinned_trim_larger_than_a_sheet_is_refused_unless_it_is_a_scrap() -> None:
    pin = TrimPin("p1-1", "p1", 254.0, 76.2, 1, 0.0, 0.0, False)
    choices = PlanChoices(trim_pins=(pin,), rounds=each(0))
    assert "larger than a sheet" in refusal_of(PIECES, Shelf((paper(side_mm=200.0),)), choices)
    scrap = Scrap("s1", "p1", 76.2, 254.0)
    plan = last_plan(PIECES, Shelf((paper(side_mm=200.0),), (scrap,)), choices)
    assert [trim.scrap for trim in plan.trims] == ["s1"]


def test_a_pin_against_the_direction_of_its_paper_is_refused() -> None:
    choices = PlanChoices(piece_pins=(PiecePin(1, "p1-1", 90.0, 40, 40),))
    with pytest.raises(Refusal, match="direction"):
        next(plans(PIECES, Shelf((paper(direction=Direction.TWO_WAY),)), choices, SPEED, 1))


def test_a_spacing_larger_than_most_pieces_is_told_with_what_would_help() -> None:
    stock, tiny = Shelf((paper(),)), pieces_of([star(5, 0.5, 0.3)] * 3)
    wide = PlanChoices(spacing_mm=60.0, rounds=each(0))
    assert "choose 1.5 mm or so" in refusal_of(PIECES, stock, wide)
    assert "make the design larger" in refusal_of(tiny, stock, PlanChoices(rounds=each(0)))


def refusal_of(pieces: list[PieceToPlace], shelf: Shelf, choices: PlanChoices) -> str:
    with pytest.raises(Refusal) as caught:
        next(plan for plan in plans(pieces, shelf, choices, SPEED, 1) if plan)
    return str(caught.value)


def test_a_piece_larger_than_the_sheet_is_named_with_the_size_at_which_it_fits() -> None:
    pieces = pieces_of([petal(30, 10), shapely.box(0, 0, 250, 40)])
    wide = [replace(piece, design_width_mm=300.0) for piece in pieces]
    words = refusal_of(wide, Shelf((paper(direction=Direction.ONE_WAY, side_mm=206.0),)), PlanChoices())
    assert "Piece 2 needs a trim of 256 mm by 46 mm" in words
    assert "is 206 mm by 206 mm" in words
    assert "make the design 240 mm wide" in words


def test_the_size_named_is_one_at_which_all_pieces_fit_with_their_lips() -> None:
    shelf, lip = Shelf((paper(direction=Direction.ONE_WAY),)), 3.0

    def refused(width: float) -> str:
        sides = [side * width / 500 + 2 * lip for side in (90.0, 400.0, 350.0)]
        pieces = [
            PieceToPlace(number, "p1", shapely.box(0, 0, side, side), number, lip, width)
            for number, side in enumerate(sides, start=1)
        ]
        try:
            next(plan for plan in plans(pieces, shelf, PlanChoices(), SPEED, 0) if plan)
        except Refusal as refusal:
            return str(refusal)
        return ""

    words = refused(500.0)
    assert "Piece 2 needs a trim of 412 mm by 412 mm" in words
    width = float(words.split("make the design ")[1].split(" mm")[0])
    assert not refused(width)
    assert refused(width + 0.1)


def test_a_piece_larger_than_the_mat_is_refused_though_the_sheet_holds_it() -> None:
    words = refusal_of(
        pieces_of([shapely.box(0, 0, 280, 280)]), Shelf((paper(),)), PlanChoices(mat_width_mm=210.0)
    )
    assert "and the mat allow is 210 mm by 304.8 mm" in words


def test_a_long_piece_may_lie_askew_where_the_paper_has_no_direction() -> None:
    slanted = affinity.rotate(shapely.box(0, 0, 280, 10), 45)
    last_plan(pieces_of([slanted]), Shelf((paper(),)), PlanChoices(rounds=each(0)))


@pytest.mark.parametrize(
    ("choices", "words"),
    [
        (PlanChoices(trim_step_mm=0.0), "steps above zero"),
        (PlanChoices(trim_step_mm=float("nan")), "steps above zero"),
        (PlanChoices(trim_step_mm=0.0001), "finer than rulers show"),
        (PlanChoices(mat_grid_mm=0.0001), "finer than mats have it"),
        (PlanChoices(spacing_mm=80.0), "spacing of 80 mm is larger"),
        (PlanChoices(spacing_mm=-1.0), "spacing can't be less"),
        (PlanChoices(margin_mm=160.0), "no room"),
        (PlanChoices(mat_grid_mm=0.0), "grid"),
        (PlanChoices(mat_rim_mm=200.0), "no room"),
    ],
)
def test_lengths_that_make_no_sense_are_refused(choices: PlanChoices, words: str) -> None:
    assert words in refusal_of(PIECES, Shelf((paper(),)), choices)


def test_no_papers_and_unknown_papers_are_refused() -> None:
    assert "no paper on the shelf" in refusal_of(PIECES, Shelf(), PlanChoices())
    assert "not on the shelf" in refusal_of(PIECES, Shelf((paper("p9"),)), PlanChoices())
