"""Designs and wishes that leave no room: a correct result or a warning there, never a crash."""

import math

import pytest
import shapely
from cards import backed, card_with, one_paper, panes
from english import english
from hypothesis import given, settings
from hypothesis import strategies as st
from measuring import broken_promises
from panels import design_of
from shapely import Polygon, affinity

from peekpaper.backing.backing import BackingChoices, Mode, WholeBack
from peekpaper.backing.make import make_backing
from peekpaper.design.design import Design, Limits, Reading
from peekpaper.design.make import make_design
from peekpaper.drawing.read import read_drawing
from peekpaper.refusal import Refusal


def codes(backing) -> set[str]:
    return {warning.code for warning in backing.warnings}


def test_a_bar_narrower_than_the_gap_is_named_with_both_openings() -> None:
    design = card_with(*panes((20, 20), (0.3,)))
    backing = backed(design)
    assert broken_promises(design, backing, BackingChoices()) == []
    warning = next(warning for warning in backing.warnings if warning.code == "no-room-between")
    assert "Openings 1 and 2 are 0.3 mm apart" in english(warning.message)
    assert design.openings[0].area.distance(warning.at) == pytest.approx(0.15)
    assert warning.message.figures == pytest.approx({"first": 1, "second": 2, "apart_mm": 0.3, "gap_mm": 0.4})
    assert backing.uniform_lip_mm == 0


def test_openings_that_touch_at_a_point_are_named() -> None:
    design = card_with(shapely.box(0, 0, 10, 10), shapely.box(10, 10, 20, 20))
    backing = backed(design)
    assert broken_promises(design, backing, BackingChoices()) == []
    assert any("touch" in english(warning.message) for warning in backing.warnings)


def test_openings_that_touch_are_named_without_a_gap_too() -> None:
    design = card_with(shapely.box(0, 0, 10, 10), shapely.box(10, 10, 20, 20))
    assert "papers-meet" in codes(backed(design, BackingChoices(gap_mm=0.0)))


def test_without_a_gap_openings_apart_are_nothing_to_warn_of() -> None:
    assert codes(backed(card_with(*panes((20, 20), (3.0,))), BackingChoices(gap_mm=0.0))) == set()


def test_a_warning_on_a_shared_piece_names_the_opening_where_it_is() -> None:
    card = shapely.box(-20, -20, 42.7, 40)
    design = design_of(card.difference(shapely.union_all(panes((20, 20), (2.0,)))))
    backing = backed(design, BackingChoices(shared_bar_mm=3.0))
    assert [piece.openings for piece in backing.pieces] == [(1, 2)]
    assert design.openings[1].area.bounds[0] > design.openings[0].area.bounds[0]
    outside, narrow = (
        next(warning for warning in backing.warnings if warning.code == code)
        for code in ("no-room-outside", "narrow-lip")
    )
    assert english(outside.message).startswith("Opening 2 comes within 0.7 mm")
    assert outside.message.figures["opening"] == narrow.message.figures["opening"] == 2
    assert "at opening 2." in english(narrow.message)


def test_an_open_neighbour_too_near_is_named() -> None:
    design = card_with(*panes((20, 20), (0.2,)))
    backing = make_backing(design, BackingChoices(), {2: "p1"})
    assert "no-room-to-open" in codes(backing)
    assert broken_promises(design, backing, BackingChoices()) == []


def test_an_opening_too_near_the_outside_is_named() -> None:
    design = card_with(shapely.box(0, 0, 20, 20), rim=0.7)
    backing = backed(design)
    assert "no-room-outside" in codes(backing)
    assert broken_promises(design, backing, BackingChoices()) == []


def test_pieces_under_the_least_lip_are_counted_in_one_warning() -> None:
    backing = backed(card_with(*panes((20, 20, 20), (1.2, 1.4))))
    assert backing.under_least_lip == (1, 2, 3)
    [warning] = [warning for warning in backing.warnings if warning.code == "narrow-lip"]
    assert "3 pieces get less than the least lip of 0.8 mm" in english(warning.message)
    assert "0.4 mm" in english(warning.message)
    assert len(shapely.get_parts(warning.where)) == 3
    assert warning.at.distance(shapely.get_parts(warning.where)[0]) < 0.01


def test_a_least_lip_above_the_wanted_one_is_said_and_no_size_is_promised() -> None:
    design = card_with(*panes((20, 20), (8.0,)))
    backing = backed(design, BackingChoices(lip_mm=2.0, least_lip_mm=3.0))
    [warning] = backing.warnings
    assert english(warning.message) == (
        "The wanted lip of 2 mm is less than the least lip of 3 mm: make it wider, or the least lip smaller."
    )
    assert warning.message.figures == {"lip_mm": 2.0, "least_lip_mm": 3.0}
    assert backing.smallest_width_mm == math.inf


@pytest.mark.parametrize("mode", list(Mode))
def test_a_wanted_lip_of_zero_gives_the_openings_themselves(mode: Mode) -> None:
    design = card_with(*panes((20, 20), (3.0,)))
    backing = backed(design, BackingChoices(mode=mode, lip_mm=0))
    for piece, opening in zip(backing.pieces, design.openings, strict=True):
        assert piece.outline.symmetric_difference(opening.area).area < 1e-3
        assert piece.outline.covers(opening.area)


def test_a_wanted_lip_larger_than_the_design_fills_the_card_up_to_its_margin() -> None:
    design = card_with(*panes((20, 20), (3.0,)), rim=8)
    wanted = BackingChoices(lip_mm=1000)
    backing = backed(design, wanted)
    assert broken_promises(design, backing, wanted) == []
    whole = shapely.box(1, 1, design.width_mm - 1, design.height_mm - 1).area
    assert sum(piece.outline.area for piece in backing.pieces) == pytest.approx(whole, rel=0.03)


def test_a_design_without_openings_gives_no_pieces() -> None:
    backing = make_backing(design_of(shapely.box(0, 0, 50, 50)), BackingChoices(), {})
    assert backing.pieces == ()
    assert backing.smallest_width_mm == 0


def test_a_design_of_which_all_stays_open_gives_no_pieces() -> None:
    backing = make_backing(card_with(*panes((20, 20), (3.0,))), BackingChoices(), {})
    assert backing.pieces == ()
    assert backing.warnings == ()


def test_decisions_on_openings_that_are_gone_do_no_harm() -> None:
    design = card_with(*panes((20, 20), (3.0,)))
    choices = BackingChoices(joined=((1, 77), (3, 4)), split=((5, 6),), simple_shapes=((9, "square 1 in"),))
    assert len(make_backing(design, choices, {1: "p1", 2: "p1", 50: "p1"}).pieces) == 2


def test_a_sliver_and_nested_rings_are_backed() -> None:
    sliver = Polygon([(0, 0), (60, 0.05), (60, -0.05)])
    bay = shapely.box(0, 10, 40, 40).difference(shapely.box(10, 20, 30, 45))
    nested = shapely.box(15, 25, 25, 38)
    design = card_with(sliver, bay, nested)
    backing = backed(design)
    assert broken_promises(design, backing, BackingChoices()) == []
    assert len(backing.pieces) == len(design.openings)


ROUNDS = b"""<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">
<g fill="none" stroke="#f00" stroke-width="0.01"><rect x="1" y="1" width="98" height="98"/>
<circle cx="30" cy="30" r="15"/><circle cx="70" cy="30" r="15"/><circle cx="50" cy="70" r="20"/></g></svg>"""


@pytest.mark.filterwarnings("error")
@pytest.mark.parametrize("tolerance", [0.005, 0.01, 0.02, 0.05])
def test_rounds_between_which_triangles_have_no_area_are_backed(tolerance: float) -> None:
    design = make_design(read_drawing(ROUNDS, tolerance), Reading(), Limits())
    backing = backed(design)
    assert broken_promises(design, backing, BackingChoices()) == []
    assert len(backing.pieces) == len(design.openings) == 3


@pytest.mark.parametrize("scale", [0.02, 0.1, 10.0, 40.0])
def test_huge_and_tiny_designs_are_backed(scale: float) -> None:
    holes = [affinity.scale(hole, scale, scale, origin=(0, 0)) for hole in panes((20, 12, 30), (2.0, 5.0))]
    design = card_with(*holes, rim=20 * scale)
    backing = backed(design)
    assert broken_promises(design, backing, BackingChoices()) == []
    assert len(backing.pieces) == len(design.openings)


@settings(max_examples=60)
@given(
    corners=st.lists(st.tuples(st.integers(0, 30), st.integers(0, 30)), min_size=3, max_size=9),
    more=st.lists(st.tuples(st.integers(0, 30), st.integers(0, 30)), min_size=3, max_size=9),
)
def test_openings_on_a_coarse_grid_never_crash(
    corners: list[tuple[int, int]], more: list[tuple[int, int]]
) -> None:
    # On a grid, openings touch at points, share edges and have collinear corners all the time.
    holes = shapely.union_all(
        [part for nodes in (corners, more) for part in shapely.get_parts(shapely.make_valid(Polygon(nodes)))]
    )
    design = design_of(shapely.box(-3, -3, 33, 33).difference(holes))
    backing = make_backing(design, BackingChoices(), one_paper(design))
    assert [
        promise for promise in broken_promises(design, backing, BackingChoices()) if "overlap" not in promise
    ] == []


@pytest.mark.parametrize("field", ["lip_mm", "gap_mm", "least_lip_mm", "clearance_mm", "edge_margin_mm"])
@pytest.mark.parametrize("value", [-1.0, math.nan, math.inf, 1e308])
def test_a_length_that_makes_no_sense_is_refused_by_name(field: str, value: float) -> None:
    design = card_with(*panes((20,), ()))
    with pytest.raises(Refusal, match=field.removesuffix("_mm").replace("_", " ")):
        backed(design, BackingChoices(**{field: value}))


def outer(design: Design) -> Polygon:
    return Polygon(design.card.geoms[0].exterior)


def test_the_whole_back_is_the_outline_drawn_in_by_its_margin() -> None:
    design = card_with(*panes((20, 20), (3.0,)), rim=10)
    sheet = backed(design, BackingChoices(whole_back=WholeBack("vellum", 2.0))).whole_back
    assert sheet is not None
    assert sheet.area == pytest.approx((design.width_mm - 4) * (design.height_mm - 4), rel=1e-3)
    assert sheet.distance(outer(design).exterior) == pytest.approx(2.0)


def test_notches_of_the_outline_are_respected_or_filled_by_choice() -> None:
    card = shapely.box(0, 0, 80, 60).difference(shapely.box(36, 0, 44, 20))
    design = design_of(card.difference(shapely.box(10, 30, 30, 50)))
    respected, filled = (
        make_backing(design, BackingChoices(whole_back=WholeBack("vellum", 2.0, fills)), {}).whole_back
        for fills in (False, True)
    )
    assert respected is not None
    assert filled is not None
    assert not respected.covers(shapely.Point(40, 10))
    assert filled.covers(shapely.Point(40, 10))


def test_a_whole_back_of_which_nothing_is_left_is_said() -> None:
    design = card_with(*panes((20,), ()))
    backing = backed(design, BackingChoices(whole_back=WholeBack("vellum", 500.0)))
    assert "no-whole-back" in codes(backing)
