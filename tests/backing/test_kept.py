"""Moving one control gives what starting afresh would give, and makes only what lies behind it."""

from dataclasses import replace

import pytest
from panels import design_of, random_panel

from peekpaper.backing.backing import Backing, BackingChoices
from peekpaper.backing.kept import BackingBench
from peekpaper.backing.make import backings, make_backing

DESIGN = design_of(random_panel(7, rows=3, columns=3).card)
PAPERS = {opening.number: f"p{opening.number % 2}" for opening in DESIGN.openings}
CHOICES = BackingChoices(shared_bar_mm=2.5)
MOVES = {
    "lip": (replace(CHOICES, lip_mm=1.2), PAPERS),
    "gap": (replace(CHOICES, gap_mm=0.9), PAPERS),
    "least lip": (replace(CHOICES, least_lip_mm=1.1), PAPERS),
    "one paper": (CHOICES, PAPERS | {3: "p9"}),
    "one opened": (CHOICES, {number: paper for number, paper in PAPERS.items() if number != 4}),
    "a split": (replace(CHOICES, split=((1, 2),)), PAPERS),
}


def same(one: Backing, other: Backing) -> bool:
    return [(p.number, p.openings, p.paper, p.outline.wkb) for p in one.pieces] == [
        (p.number, p.openings, p.paper, p.outline.wkb) for p in other.pieces
    ] and one.offers == other.offers


@pytest.mark.parametrize("move", MOVES)
def test_a_kept_bench_changes_nothing_but_the_time(move: str) -> None:
    bench = BackingBench()
    make_backing(DESIGN, CHOICES, PAPERS, bench)
    choices, papers = MOVES[move]
    assert same(make_backing(DESIGN, choices, papers, bench), make_backing(DESIGN, choices, papers))


def test_the_same_wishes_finish_no_piece_again() -> None:
    bench = BackingBench()
    first = make_backing(DESIGN, CHOICES, PAPERS, bench)
    again = make_backing(DESIGN, CHOICES, PAPERS, bench)
    assert all(one.outline is other.outline for one, other in zip(first.pieces, again.pieces, strict=True))


def test_opening_one_finishes_only_its_neighbours_again() -> None:
    design = design_of(random_panel(11, rows=5, columns=5).card)
    papers = {opening.number: "p1" for opening in design.openings}
    bench, choices = BackingBench(), BackingChoices()
    before = {piece.number: piece.outline for piece in make_backing(design, choices, papers, bench).pieces}
    del papers[1]
    after = {piece.number: piece.outline for piece in make_backing(design, choices, papers, bench).pieces}
    made_again = [number for number in after if after[number] is not before[number]]
    assert len(made_again) <= 8


def test_another_design_on_the_same_bench_is_no_mistake() -> None:
    bench = BackingBench()
    make_backing(DESIGN, CHOICES, PAPERS, bench)
    other = design_of(random_panel(8, rows=2, columns=2).card)
    papers = {opening.number: "p1" for opening in other.openings}
    assert same(make_backing(other, CHOICES, papers, bench), make_backing(other, CHOICES, papers))


def test_the_preview_has_all_pieces_and_no_offers() -> None:
    preview, whole = backings(DESIGN, CHOICES, PAPERS)
    assert [piece.openings for piece in preview.pieces] == [piece.openings for piece in whole.pieces]
    assert preview.offers == ()
    assert preview.uniform_lip_mm == whole.uniform_lip_mm
