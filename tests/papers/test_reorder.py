"""What to buy again: sheets that projects need together beyond those at hand, and what runs low."""

import csv
import io
from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from peekpaper.papers.paper import Paper, Shelf
from peekpaper.papers.reorder import Need, reorder
from peekpaper.sheets.reorder_list import reorder_csv
from peekpaper.words.words import read_words

MOSS = Paper("m", "Moss", "#667733", sheets=3, price=1.5)
SKY = Paper("s", "Sky", "#88aadd", sheets=1)
ROSE = Paper("r", "Rose", "#dd88aa")
STASH = Shelf((MOSS, SKY, ROSE))


def drawn(paper: Paper, own: str) -> Paper:
    """A paper of the stash as it lies on a project's shelf."""
    return replace(paper, id=own, stash=paper.id)


def test_what_projects_need_together_is_set_against_what_is_there_once() -> None:
    needs = [
        Need("Harbour", (drawn(MOSS, "p1"), drawn(ROSE, "p2")), {"p1": 2, "p2": 1}),
        Need("Window", (drawn(MOSS, "p9"),), {"p9": 3}),
    ]
    rows = {row.paper.name: row for row in reorder(STASH, needs)}
    assert (rows["Moss"].needed, rows["Moss"].at_hand, rows["Moss"].to_buy) == (5, 3, 2)
    assert rows["Moss"].projects == ("Harbour", "Window")
    assert rows["Moss"].cost == 3.0
    assert rows["Moss"].is_low
    # Nobody counted the roses: all may have to be bought.
    assert (rows["Rose"].at_hand, rows["Rose"].to_buy, rows["Rose"].is_low) == (None, 1, False)
    assert (rows["Sky"].needed, rows["Sky"].to_buy, rows["Sky"].is_low) == (0, 0, True)
    assert [row.paper.name for row in reorder(STASH, needs)][-1] == "Sky"


def test_papers_that_no_stash_holds_count_for_their_own_project() -> None:
    plain = Paper("p1", "Plain", "#ffffff", sheets=1)
    needs = [Need("One", (plain,), {"p1": 1}), Need("Other", (plain,), {"p1": 2})]
    rows = reorder(Shelf(), needs)
    assert [(row.projects, row.to_buy) for row in rows] == [(("Other",), 1), (("One",), 0)]


@given(
    st.lists(st.one_of(st.none(), st.integers(0, 6)), min_size=3, max_size=3),
    st.lists(st.lists(st.integers(0, 4), min_size=3, max_size=3), max_size=4),
)
def test_bought_and_at_hand_are_never_less_than_what_is_needed_and_nothing_is_bought_for_nothing(
    at_hand: list[int | None], sheets: list[list[int]]
) -> None:
    stash = Shelf(
        tuple(Paper(f"s{n}", f"Paper {n}", "#808080", sheets=count) for n, count in enumerate(at_hand))
    )
    papers = tuple(drawn(paper, f"p{n}") for n, paper in enumerate(stash.papers))
    needs = [
        Need(f"Project {n}", papers, {f"p{place}": count for place, count in enumerate(counts)})
        for n, counts in enumerate(sheets)
    ]
    rows = {row.stash: row for row in reorder(stash, needs)}
    for place, paper in enumerate(stash.papers):
        needed = sum(counts[place] for counts in sheets)
        row = rows.get(paper.id)
        bought = row.to_buy if row else 0
        assert (paper.sheets or 0) + bought >= needed
        assert bought == max(0, needed - (paper.sheets or 0))


def test_the_list_is_saved_as_a_table_that_runs_nothing() -> None:
    needs = [Need("=1+1", (drawn(MOSS, "p1"),), {"p1": 4})]
    read = list(
        csv.reader(
            io.StringIO(reorder_csv(reorder(STASH, needs), "in", read_words("en")).decode("utf-8-sig"))
        )
    )
    assert read[0][:6] == ["Paper", "Collection", "Sheet size", "Sheets needed", "At hand", "To buy"]
    assert read[1][0] == "Moss"
    assert read[1][3:7] == ["4", "3", "1", "1.50"]
    assert not read[1][7].startswith("=")
