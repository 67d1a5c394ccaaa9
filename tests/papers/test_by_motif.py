"""Suggestions motif by motif: alike motifs have the same papers, others papers of their own."""

from hypothesis import given, settings
from hypothesis import strategies as st
from made_designs import BRIGHT, design_of, shelf_of

from peekpaper.design.design import Design
from peekpaper.design.motifs.motif import Motif
from peekpaper.papers.paper import Colourway
from peekpaper.papers.suggest import Wish, suggest

OPEN = Colourway("c", "")


def bed(kinds: list[int], touch: bool = False) -> tuple[Design, list[Motif]]:
    """Flowers in a row, alike within a kind: four petals around a heart; petals may touch the next one."""
    petals = 4
    alike, beside, motifs = {}, [], []
    for place, kind in enumerate(kinds):
        heart, *others = range(1 + place * (petals + 1), 1 + (place + 1) * (petals + 1))
        alike[heart] = 100 + kind
        alike.update(dict.fromkeys(others, kind))
        beside += [(heart, petal) for petal in others]
        if place and touch:
            beside.append((heart - 1, others[0]))
        motifs.append(Motif("", (heart, *others)))
    return design_of(alike, beside), motifs


@given(
    kinds=st.lists(st.integers(0, 2), min_size=2, max_size=6),
    touch=st.booleans(),
    count=st.integers(2, 8),
    seed=st.integers(0, 99),
)
@settings(max_examples=40)
def test_alike_motifs_have_the_same_papers_and_no_neighbours_share_one(
    kinds: list[int], touch: bool, count: int, seed: int
):
    design, motifs = bed(kinds, touch)
    papers = suggest(design, shelf_of(*BRIGHT), OPEN, Wish(count, seed, by_motif=True), motifs).papers
    assert sorted(papers) == [opening.number for opening in design.openings]
    assert all(papers[bar.first] != papers[bar.second] for bar in design.bars if bar.second)
    used = [tuple(papers[number] for number in motif.openings) for motif in motifs]
    if not touch:
        assert len(set(zip(kinds, used, strict=True))) == len(set(kinds))


def test_with_papers_enough_each_kind_of_motif_has_papers_of_its_own():
    design, motifs = bed([0, 1, 0, 2])
    papers = suggest(design, shelf_of(*BRIGHT), OPEN, Wish(6, 3, by_motif=True), motifs).papers
    used = [{papers[number] for number in motif.openings} for motif in motifs]
    assert used[0] == used[2]
    assert not used[0] & used[1]
    assert not used[1] & used[3]


def test_a_motif_that_lacks_an_opening_is_still_of_the_kind_of_its_twin():
    design, motifs = bed([0, 0, 1])
    lone = Motif("lost petal", motifs[0].openings[-1:])
    motifs = [Motif("", motifs[0].openings[:-1]), *motifs[1:], lone]
    papers = suggest(design, shelf_of(*BRIGHT), OPEN, Wish(4, 1, by_motif=True), motifs).papers
    assert papers[motifs[0].openings[0]] == papers[motifs[1].openings[0]]
