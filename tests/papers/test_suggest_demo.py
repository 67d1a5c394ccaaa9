"""Suggestions for the demo, a design as people bring them."""

import pytest
from english import english

from peekpaper.demo.harbour import demo_project
from peekpaper.papers.neighbours import neighbours_of, side_by_side
from peekpaper.papers.paper import Colourway
from peekpaper.papers.suggest import Wish, suggest
from peekpaper.pipeline import Pipeline, chosen_colourway

PROJECT = demo_project()
DESIGN = Pipeline().design(PROJECT)


@pytest.mark.parametrize("count", [4, 5, 8])
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_from_four_papers_on_no_neighbours_share_one(count: int, seed: int) -> None:
    suggestion = suggest(DESIGN, PROJECT.shelf, Colourway("new", ""), Wish(count, seed))
    pairs = list(side_by_side(neighbours_of(DESIGN)))
    assert len(pairs) > 200
    assert all(suggestion.papers[first] != suggestion.papers[second] for first, second in pairs)
    assert sorted(suggestion.papers) == [opening.number for opening in DESIGN.openings]
    assert suggestion.unmet == ()


def test_openings_left_open_as_too_small_stay_open_and_it_is_said() -> None:
    colourway = chosen_colourway(PROJECT)
    small = {opening.number for opening in DESIGN.openings} - set(colourway.papers)
    assert small
    suggestion = suggest(DESIGN, PROJECT.shelf, colourway, Wish(6, 1))
    assert not small & set(suggestion.papers)
    assert any("too small to back" in english(reason) for reason in suggestion.reasons)
