import pytest
import shapely
from cards import backed, card_with, one_paper, panes, ring_of_petals
from measuring import broken_promises

from peekpaper.backing.backing import BackingChoices
from peekpaper.backing.make import make_backing

NARROW = BackingChoices(shared_bar_mm=2.0)


def openings_of(backing) -> list[tuple[int, ...]]:
    return [piece.openings for piece in backing.pieces]


def test_openings_of_one_paper_share_a_piece_across_a_narrow_bar() -> None:
    design = card_with(*panes((20, 20, 20), (1.5, 4.0)))
    backing = backed(design, NARROW)
    assert openings_of(backing) == [(1, 2), (3,)]
    assert backing.pieces_saved_by_sharing == 1
    bar = shapely.box(*design.openings[0].area.bounds).union(design.openings[1].area).envelope
    assert backing.pieces[0].outline.covers(bar.buffer(-0.1))
    assert broken_promises(design, backing, NARROW) == []


def test_another_paper_never_shares_a_piece() -> None:
    design = card_with(*panes((20, 20, 20), (1.5, 1.5)))
    backing = make_backing(design, NARROW, {1: "p1", 2: "p2", 3: "p1"})
    assert openings_of(backing) == [(1,), (2,), (3,)]
    assert broken_promises(design, backing, NARROW) == []


def test_a_piece_never_spans_an_opening_that_stays_open() -> None:
    design = card_with(*panes((20, 1.0, 20), (0.5, 0.5)))
    choices = BackingChoices(shared_bar_mm=3.0)
    backing = make_backing(design, choices, {1: "p1", 3: "p1"})
    assert openings_of(backing) == [(1,), (3,)]
    assert broken_promises(design, backing, choices) == []


def test_the_person_joins_across_a_wide_bar_and_splits_across_a_narrow_one() -> None:
    design = card_with(*panes((20, 20, 20), (1.5, 5.0)))
    choices = BackingChoices(shared_bar_mm=2.0, joined=((2, 3),), split=((1, 2),))
    backing = backed(design, choices)
    assert openings_of(backing) == [(1,), (2, 3)]
    assert broken_promises(design, backing, choices) == []


def test_a_split_pair_stays_apart_whatever_lies_between() -> None:
    design = card_with(*panes((20, 20, 20), (1.5, 1.6)))
    backing = backed(design, BackingChoices(shared_bar_mm=2.0, split=((1, 3),)))
    assert openings_of(backing) == [(1, 2), (3,)]


def test_joining_different_papers_is_said_to_be_impossible() -> None:
    design = card_with(*panes((20, 20), (1.5,)))
    backing = make_backing(design, BackingChoices(joined=((1, 2),)), {1: "p1", 2: "p2"})
    assert openings_of(backing) == [(1,), (2,)]
    assert [warning.code for warning in backing.warnings].count("unlike-papers") == 1


def test_joining_past_another_piece_is_said_to_be_impossible() -> None:
    design = card_with(*panes((20, 20, 20), (2.0, 2.0)))
    backing = make_backing(design, BackingChoices(joined=((1, 3),)), {1: "p1", 2: "p2", 3: "p1"})
    assert openings_of(backing) == [(1,), (2,), (3,)]
    assert any(warning.code == "not-joined" for warning in backing.warnings)


def test_the_bar_inside_a_shared_piece_sets_no_lip() -> None:
    design = card_with(*panes((20, 20, 20), (0.5, 3.0)))
    backing = backed(design, NARROW)
    assert backing.uniform_lip_mm == pytest.approx(1.3)
    assert not any(warning.code == "no-room-between" for warning in backing.warnings)


@pytest.mark.parametrize("middle_is_open", [True, False])
def test_a_ring_of_petals_in_one_paper_goes_around_the_middle(middle_is_open: bool) -> None:
    # The outline has no holes, so a slit leads to what the piece goes around.
    design = card_with(*ring_of_petals())
    middle = min(
        design.openings, key=lambda opening: opening.area.centroid.distance(shapely.centroid(design.card))
    )
    papers = one_paper(design) | {middle.number: "p2"}
    if middle_is_open:
        del papers[middle.number]
    backing = make_backing(design, NARROW, papers)
    assert broken_promises(design, backing, NARROW) == []
    petals = max(backing.pieces, key=lambda piece: len(piece.openings))
    assert len(petals.openings) == 8


def test_a_piece_goes_around_an_open_hole_in_its_bay() -> None:
    bay = shapely.box(0, 0, 30, 30).difference(shapely.box(12, 8, 18, 30))
    eye = shapely.Point(15, 20).buffer(1.2)
    design = card_with(bay, eye)
    bay_number = max(design.openings, key=lambda opening: opening.area.area).number
    choices = BackingChoices(lip_mm=8.0)
    backing = make_backing(design, choices, {bay_number: "p1"})
    assert broken_promises(design, backing, choices) == []


def test_fewer_pieces_are_offered_where_wider_bars_save_many_and_come_as_offered() -> None:
    design = card_with(*panes((8,) * 12, (1.8,) * 11))
    papers = one_paper(design)
    offer = backed(design).fewer
    assert offer is not None
    assert (offer.limit_mm, offer.pieces, offer.shared) == (2.0, 1, (tuple(range(1, 13)),))
    taken = make_backing(design, BackingChoices(shared_bar_mm=offer.limit_mm), papers)
    assert len(taken.pieces) == offer.pieces
    assert taken.fewer is None


def test_fewer_pieces_are_not_offered_where_few_would_be_saved_or_papers_differ() -> None:
    design = card_with(*panes((8,) * 12, (1.8,) * 3 + (9.0,) * 8))
    assert backed(design).fewer is None
    chequered = card_with(*panes((8,) * 12, (1.8,) * 11))
    assert make_backing(chequered, BackingChoices(), {n: f"p{n % 2}" for n in range(1, 13)}).fewer is None
