"""Suggestions: alike openings match, neighbours stand apart, what was locked stays."""

import re

import pytest
from english import english
from hypothesis import given
from hypothesis import strategies as st
from made_designs import BRIGHT, design_of, shelf_of
from test_colouring import KNOWN

from peekpaper.papers.colour import TELLS_APART, difference
from peekpaper.papers.paper import Colourway, Paper, Scrap, Shelf
from peekpaper.papers.suggest import Wish, suggest
from peekpaper.refusal import Refusal

OPEN = Colourway("c1", "New")


def ring(count: int) -> list[tuple[int, int]]:
    return [(number, number % count + 1) for number in range(1, count + 1)]


@pytest.mark.parametrize("name", KNOWN)
def test_with_papers_enough_no_neighbours_share_one(name: str) -> None:
    edges, chromatic = KNOWN[name]
    beside = [(a + 1, b + 1) for a, b in edges]
    numbers = {number for pair in beside for number in pair}
    shelf = shelf_of(*BRIGHT, "#00a0a0")
    suggestion = suggest(design_of({n: n for n in numbers}, beside), shelf, OPEN, Wish(chromatic, 1))
    assert all(suggestion.papers[a] != suggestion.papers[b] for a, b in beside)
    assert len(set(suggestion.papers.values())) == chromatic
    assert suggestion.unmet == ()


def test_alike_openings_get_the_same_paper() -> None:
    design = design_of({1: 1, 2: 2, 3: 1, 4: 2, 5: 3}, [(1, 2), (2, 3), (3, 4), (4, 5)])
    papers = suggest(design, shelf_of(*BRIGHT), OPEN, Wish(3, 1)).papers
    assert papers[1] == papers[3]
    assert papers[2] == papers[4]
    assert len({papers[1], papers[2], papers[5]}) == 3


def test_an_even_ring_of_alike_openings_that_touch_takes_two_papers_in_turn() -> None:
    papers = suggest(
        design_of(dict.fromkeys(range(1, 13), 1), ring(12)), shelf_of(*BRIGHT), OPEN, Wish(2, 1)
    ).papers
    assert len({papers[number] for number in range(1, 13, 2)}) == 1
    assert len({papers[number] for number in range(2, 13, 2)}) == 1
    assert papers[1] != papers[2]


def test_an_odd_ring_of_alike_openings_takes_a_third_paper() -> None:
    suggestion = suggest(
        design_of(dict.fromkeys(range(1, 12), 1), ring(11)), shelf_of(*BRIGHT), OPEN, Wish(3, 1)
    )
    assert all(suggestion.papers[a] != suggestion.papers[b] for a, b in ring(11))


def test_alike_openings_are_parted_where_that_alone_keeps_neighbours_apart() -> None:
    # Two pairs of alike openings; whole they need three papers, parted two do.
    beside = [(1, 2), (2, 3), (3, 4), (4, 5)]
    design = design_of({1: 1, 2: 2, 3: 3, 4: 1, 5: 5}, beside)
    suggestion = suggest(design, shelf_of(*BRIGHT), OPEN, Wish(2, 1))
    assert all(suggestion.papers[a] != suggestion.papers[b] for a, b in beside)
    assert any("take turns" in english(reason) for reason in suggestion.reasons)


def test_alike_openings_stay_together_where_parting_them_would_not_help() -> None:
    beside = [(1, 2), (2, 3), (1, 3), (3, 4)]
    design = design_of({1: 1, 2: 2, 3: 3, 4: 1}, beside)
    suggestion = suggest(design, shelf_of(*BRIGHT), OPEN, Wish(2, 1))
    assert suggestion.papers[1] == suggestion.papers[4]
    assert any("with 3 papers no neighbours need to" in english(sentence) for sentence in suggestion.unmet)


def test_papers_that_are_hard_to_tell_apart_are_not_taken_while_others_are_there() -> None:
    shelf = shelf_of("#2040c0", "#2142c2", "#f0d020")
    for seed in range(20):
        suggestion = suggest(design_of({1: 1, 2: 2}, [(1, 2)]), shelf, OPEN, Wish(2, seed))
        colours = {paper.id: paper.colour for paper in shelf.papers}
        assert difference(*(colours[paper] for paper in suggestion.papers.values())) >= TELLS_APART


def test_like_papers_lie_apart_where_they_must_be_used() -> None:
    # Of three papers two are hard to tell apart; on a path they need never meet.
    shelf = shelf_of("#2040c0", "#2142c2", "#f0d020")
    beside = [(1, 2), (2, 3), (3, 4)]
    suggestion = suggest(design_of({n: n for n in range(1, 5)}, beside), shelf, OPEN, Wish(3, 1))
    assert all({suggestion.papers[a], suggestion.papers[b]} != {"p1", "p2"} for a, b in beside)
    assert suggestion.unmet == ()


def test_what_can_not_be_told_apart_is_said() -> None:
    suggestion = suggest(design_of({1: 1, 2: 2}, [(1, 2)]), shelf_of("#2040c0", "#2142c2"), OPEN, Wish(2, 1))
    (sentence,) = suggestion.unmet
    assert english(sentence) == (
        "Openings 1 and 2 lie side by side with Paper 1 and Paper 2, which are hard to tell apart."
    )


def test_papers_just_short_of_easy_to_tell_apart_are_not_said_to_be_so() -> None:
    shelf = shelf_of("#808080", "#9d9d9d")
    assert 9.5 < difference("#808080", "#9d9d9d") < TELLS_APART
    suggestion = suggest(design_of({1: 1, 2: 2}, [(1, 2)]), shelf, OPEN, Wish(2, 1))
    assert [message.key for message in suggestion.unmet] == ["unmet.nearness"]
    assert "reason.taken-apart" not in [message.key for message in suggestion.reasons]


def test_locked_openings_keep_paper_and_openness() -> None:
    design = design_of({n: n for n in range(1, 7)}, ring(6))
    colourway = Colourway("c1", "Mine", {1: "p1", 3: "p2"}, locked=(1, 2, 3))
    for seed in range(10):
        suggestion = suggest(design, shelf_of(*BRIGHT), colourway, Wish(4, seed))
        assert (suggestion.papers[1], suggestion.papers[3]) == ("p1", "p2")
        assert 2 not in suggestion.papers
        assert set(suggestion.papers) == {1, 3, 4, 5, 6}
        assert any(english(reason) == "Openings 1–3 keep what you locked." for reason in suggestion.reasons)


def test_openings_alike_to_a_locked_one_take_its_paper() -> None:
    design = design_of({1: 1, 2: 1, 3: 1, 4: 2}, [(3, 4)])
    colourway = Colourway("c1", "Mine", {2: "p5"}, locked=(2,))
    suggestion = suggest(design, shelf_of(*BRIGHT), colourway, Wish(3, 1))
    assert {suggestion.papers[number] for number in (1, 2, 3)} == {"p5"}
    assert "Openings 1 and 3 get Paper 5 like the locked opening of the same shape." in map(
        english, suggestion.reasons
    )


def test_a_neighbour_of_a_locked_opening_gets_another_paper() -> None:
    design = design_of({1: 1, 2: 1}, [(1, 2)])
    suggestion = suggest(design, shelf_of(*BRIGHT), Colourway("c", "", {1: "p3"}, (1,)), Wish(2, 1))
    assert suggestion.papers[2] != "p3"


def test_a_reason_does_not_call_an_opening_alike_to_a_locked_one_that_has_another_paper() -> None:
    design = design_of({1: 1, 2: 2, 3: 1}, [(1, 2)])
    colourway = Colourway("c", "", {2: "p3", 3: "p3"}, (2, 3))
    suggestion = suggest(design, shelf_of(*BRIGHT), colourway, Wish(2, 1))
    paper = suggestion.papers[1].removeprefix("p")
    assert (
        f"Opening 1 gets Paper {paper}, not Paper 3 like the locked opening of the same shape: that keeps"
        " neighbours apart, or uses every paper." in map(english, suggestion.reasons)
    )


@given(st.integers(0, 2**31), st.integers(1, 9))
def test_the_same_seed_gives_the_same_suggestion(seed: int, count: int) -> None:
    design = design_of({n: n % 4 for n in range(1, 20)}, ring(19))
    assert suggest(design, shelf_of(*BRIGHT), OPEN, Wish(count, seed)) == suggest(
        design, shelf_of(*BRIGHT), OPEN, Wish(count, seed)
    )


def test_seeds_shuffle() -> None:
    design = design_of({n: n for n in range(1, 13)}, ring(12))
    spreads = {
        tuple(suggest(design, shelf_of(*BRIGHT), OPEN, Wish(3, seed)).papers.values()) for seed in range(10)
    }
    assert len(spreads) > 5


@given(st.data())
def test_every_opening_gets_a_paper_of_the_shelf_and_a_reason(data: st.DataObject) -> None:
    count = data.draw(st.integers(1, 25))
    numbers = range(1, count + 1)
    alike = {number: data.draw(st.integers(1, 6)) for number in numbers}
    pairs = st.tuples(st.sampled_from(numbers), st.sampled_from(numbers)).filter(
        lambda pair: pair[0] != pair[1]
    )
    beside = data.draw(st.lists(pairs, max_size=40))
    shelf = shelf_of(*data.draw(st.lists(st.sampled_from(BRIGHT), min_size=1, max_size=6)))
    wanted = data.draw(st.integers(1, 8))
    suggestion = suggest(design_of(alike, beside), shelf, OPEN, Wish(wanted, data.draw(st.integers(0, 9))))
    assert sorted(suggestion.papers) == list(numbers)
    assert set(suggestion.papers.values()) <= {paper.id for paper in shelf.papers}
    assert len(set(suggestion.papers.values())) <= wanted
    assert _numbers_in(tuple(map(english, suggestion.reasons))) == set(numbers)
    shares = any(suggestion.papers[a] == suggestion.papers[b] for a, b in beside)
    assert shares == any("share a paper" in english(sentence) for sentence in suggestion.unmet)


def _numbers_in(reasons: tuple[str, ...]) -> set[int]:
    """The opening numbers that the reasons name ("3, 5 and 7–12"), without those of the papers' names."""
    text = re.sub(r"Paper \d+", "", " ".join(reasons[1:] if "taken from" in reasons[0] else reasons))
    named: set[int] = set()
    for first, last in re.findall(r"(\d+)(?:–(\d+))?", text):
        named.update(range(int(first), int(last or first) + 1))
    return named


def test_a_sheet_that_is_too_small_for_an_opening_is_not_suggested_while_another_does() -> None:
    small = Paper("p1", "Small", "#d02020", sheet_width_mm=5, sheet_height_mm=50)
    large = Paper("p2", "Large", "#2040c0")
    design = design_of({1: 1}, [])
    for seed in range(10):
        assert suggest(design, Shelf((small, large)), OPEN, Wish(2, seed)).papers == {1: "p2"}
    (sentence,) = suggest(design, Shelf((small,)), OPEN, Wish(1, 1)).unmet
    assert english(sentence) == "Opening 1 will not fit on a sheet of Small: add a larger paper to the shelf."


def test_a_paper_with_no_sheets_left_is_suggested_only_while_a_scrap_is_left() -> None:
    gone, left = Paper("p1", "Gone", "#d02020", sheets=0), Paper("p2", "Left", "#2040c0")
    design = design_of({1: 1, 2: 2}, [(1, 2)])
    assert set(suggest(design, Shelf((gone, left)), OPEN, Wish(2, 1)).papers.values()) == {"p2"}
    scraps = (Scrap("s1", "p1", 60, 60),)
    assert set(suggest(design, Shelf((gone, left), scraps), OPEN, Wish(2, 1)).papers.values()) == {"p1", "p2"}


def test_asking_for_more_papers_than_there_are_gives_all_and_says_so() -> None:
    suggestion = suggest(design_of({n: n for n in range(1, 6)}, []), shelf_of(*BRIGHT[:3]), OPEN, Wish(5, 1))
    assert len(set(suggestion.papers.values())) == 3
    assert [english(message) for message in suggestion.unmet] == [
        "You asked for 5 papers, but only 3 papers are at hand: add papers to the shelf for more."
    ]


def test_with_nothing_to_spread_or_nothing_to_spread_it_over_a_sentence_says_what_to_do() -> None:
    one = design_of({1: 1}, [])
    with pytest.raises(Refusal, match="add one to the shelf first"):
        suggest(one, Shelf(), OPEN, Wish(3, 1))
    with pytest.raises(Refusal, match="one at least"):
        suggest(one, shelf_of(*BRIGHT), OPEN, Wish(0, 1))
    with pytest.raises(Refusal, match="cut some by hand"):
        suggest(design_of({}, []), shelf_of(*BRIGHT), OPEN, Wish(3, 1))


def test_papers_and_locks_that_no_longer_exist_do_no_harm() -> None:
    colourway = Colourway("c1", "Old", {1: "gone", 77: "p1"}, locked=(1, 77))
    suggestion = suggest(design_of({1: 1, 2: 2}, [(1, 2)]), shelf_of(*BRIGHT), colourway, Wish(2, 1))
    assert set(suggestion.papers) == {2}
