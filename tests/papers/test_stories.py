"""Colour stories: palettes over the papers at hand, ramps over rings, suggestions from chosen papers."""

import itertools
import json
import math
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from made_designs import BRIGHT, design_of, shelf_of
from PIL import Image
from shapely import Point, box

from peekpaper.__main__ import main
from peekpaper.demo.harbour import demo_project
from peekpaper.design.design import Design
from peekpaper.papers.colour import TELLS_APART, difference, lab_of
from peekpaper.papers.paper import Colourway, Paper
from peekpaper.papers.stories.rings import rings_of
from peekpaper.papers.stories.story import StoryKind, leading_colour, stories
from peekpaper.papers.suggest import Wish, suggest
from peekpaper.project.document import to_json
from peekpaper.refusal import Refusal

OPEN = Colourway("c1", "New")
BLUES = ("#10204a", "#27509a", "#4f8ad8", "#93bdf0", "#dcebfc")
WARM = ("#e08030", "#c05020", "#f0c090", "#603010")
GREENS = ("#208060", "#90d0b0")
SHELF = shelf_of(*BLUES, *WARM, *GREENS, "#808080", "#fefefe")
COLOUR = {paper.id: paper.colour for paper in SHELF.papers}


def hue(colour: str) -> float:
    _, a, b = lab_of(colour)
    return math.degrees(math.atan2(b, a)) % 360


def apart_on_the_wheel(one: str, other: str) -> float:
    turn = abs(hue(one) - hue(other))
    return min(turn, 360 - turn)


def told(colour: str, count: int = 5) -> dict[StoryKind, list[str]]:
    return {
        story.kind: [COLOUR[id_] for id_ in story.papers] for story in stories(SHELF.papers, colour, count)
    }


def test_near_keeps_to_one_side_of_the_wheel_and_opposite_has_both() -> None:
    found = told("#27509a")
    assert found[StoryKind.NEAR][0] == "#27509a"
    assert all(apart_on_the_wheel("#27509a", colour) < 100 for colour in found[StoryKind.NEAR])
    across = [colour for colour in found[StoryKind.OPPOSITE] if apart_on_the_wheel("#27509a", colour) > 120]
    assert across
    assert set(across) <= set(WARM)
    assert found[StoryKind.OPPOSITE][0] == "#27509a"


def test_light_to_dark_goes_from_the_lightest_to_the_darkest_of_one_hue() -> None:
    ramp = told("#4f8ad8")[StoryKind.LIGHT_TO_DARK]
    assert len(ramp) >= 4
    assert all(lab_of(one)[0] > lab_of(next_)[0] for one, next_ in itertools.pairwise(ramp))
    assert set(ramp) <= {*BLUES, "#fefefe"}


def test_more_like_this_comes_in_the_order_of_ciede2000() -> None:
    alike = told("#27509a")[StoryKind.ALIKE]
    off = [difference("#27509a", colour) for colour in alike]
    assert off == sorted(off)
    assert all(off[-1] <= difference("#27509a", colour) for colour in COLOUR.values() if colour not in alike)


@given(
    st.lists(st.integers(0, 0xFFFFFF).map("#{:06x}".format), min_size=1, max_size=12),
    st.integers(0, 0xFFFFFF).map("#{:06x}".format),
    st.integers(1, 6),
)
def test_a_palette_has_no_two_papers_that_are_hard_to_tell_apart(
    colours: list[str], colour: str, count: int
) -> None:
    shelf = shelf_of(*colours)
    shown = {paper.id: paper.colour for paper in shelf.papers}
    for story in stories(shelf.papers, colour, count):
        assert 2 <= len(story.papers) <= count
        assert len(set(story.papers)) == len(story.papers)
        if story.kind is not StoryKind.ALIKE:
            pairs = itertools.combinations(story.papers, 2)
            assert all(difference(shown[one], shown[other]) >= TELLS_APART for one, other in pairs)


def test_a_photo_on_a_white_table_is_told_by_its_first_colour_that_has_a_hue() -> None:
    assert leading_colour(["#f4f2ee", "#8a8a88", "#27509a", "#c05020"]) == "#27509a"
    assert leading_colour(["#f4f2ee", "#8a8a88"]) == "#f4f2ee"


def test_no_papers_and_no_count_are_refused() -> None:
    with pytest.raises(Refusal, match="paper"):
        stories((), "#27509a", 3)
    with pytest.raises(Refusal, match="one at least"):
        stories(SHELF.papers, "#27509a", 0)


def mandala(rings: int, around: int) -> Design:
    """Rings of alike round openings about the middle, each with a bar to the next of its ring and inwards."""
    places = {}
    beside = []
    for level, at in itertools.product(range(rings), range(around)):
        number = 1 + level * around + at
        turn = 2 * math.pi * at / around
        places[number] = Point(20 * (level + 1) * math.cos(turn), 20 * (level + 1) * math.sin(turn)).buffer(3)
        beside.append((number, 1 + level * around + (at + 1) % around))
        if level:
            beside.append((number - around, number))
    design = design_of(dict.fromkeys(places, 1), beside)
    reach = 20 * (rings + 1)
    openings = tuple(replace(opening, area=places[opening.number]) for opening in design.openings)
    card = box(-reach, -reach, reach, reach)
    return replace(design, openings=openings, card=type(design.card)([card]))


def test_alike_openings_at_different_distances_are_different_rings() -> None:
    rings = rings_of(mandala(4, 6))
    assert [rings.outwards[number] for number in (1, 7, 13, 19)] == pytest.approx([0, 1 / 3, 2 / 3, 1])
    assert len({opening.alike for opening in rings.design.openings}) == 4


def test_a_ramp_goes_from_the_middle_outwards_and_no_neighbours_share_a_paper() -> None:
    design = mandala(5, 8)
    order = ("p5", "p4", "p3", "p2", "p1")
    papers = suggest(design, SHELF, OPEN, Wish(5, 1, order, ramp=True)).papers
    assert all(papers[bar.first] != papers[bar.second] for bar in design.bars if bar.second)
    places = [order.index(papers[number]) for number in sorted(papers)]
    means = [sum(places[8 * level : 8 * level + 8]) / 8 for level in range(5)]
    assert means == sorted(means)
    assert means[0] < 1.1
    assert means[-1] > 2.9


def test_where_rings_do_not_touch_themselves_each_has_one_paper_of_the_ramp() -> None:
    design = mandala(4, 6)
    apart = tuple(bar for bar in design.bars if bar.second is not None and bar.second - bar.first == 6)
    papers = suggest(
        replace(design, bars=apart), SHELF, OPEN, Wish(4, 1, ("p5", "p4", "p3", "p2"), ramp=True)
    ).papers
    assert [papers[number] for number in (1, 7, 13, 19)] == ["p5", "p4", "p3", "p2"]
    assert all(papers[number] == papers[1 + 6 * ((number - 1) // 6)] for number in papers)


@given(
    st.sets(st.sampled_from([f"p{place}" for place in range(1, 9)]), min_size=1),
    st.booleans(),
    st.integers(0, 9),
)
def test_a_suggestion_takes_only_the_papers_it_is_told_to_and_leaves_what_is_locked(
    among: set[str], ramp: bool, seed: int
) -> None:
    gone = Paper("p9", "Gone", "#123456", sheets=0)
    shelf = shelf_of(*BRIGHT)
    shelf = replace(shelf, papers=(*shelf.papers, gone))
    colourway = Colourway("c", "", {2: "p8"}, (2,))
    papers = suggest(mandala(2, 4), shelf, colourway, Wish(8, seed, tuple(sorted(among)), ramp)).papers
    assert papers[2] == "p8"
    assert {paper for number, paper in papers.items() if number != 2} <= {*among, "p8"}


def test_a_paper_that_is_used_up_is_taken_where_it_is_asked_for() -> None:
    shelf = shelf_of(*BRIGHT)
    gone = replace(shelf.papers[0], sheets=0)
    shelf = replace(shelf, papers=(gone, *shelf.papers[1:]))
    papers = suggest(mandala(2, 4), shelf, OPEN, Wish(2, 1, ("p1", "p2"))).papers
    assert set(papers.values()) == {"p1", "p2"}


def test_the_command_tells_palettes_and_plans_with_chosen_papers_alone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    kept = tmp_path / "demo.json"
    kept.write_text(to_json(demo_project()), encoding="utf-8")
    names = [paper.name for paper in demo_project().shelf.papers]
    assert main(["stories", str(kept), "--paper", names[0].upper()]) == 0
    told = json.loads(capsys.readouterr().out)["stories"]
    assert told["alike"][0] == names[0]
    assert {name for story in told.values() for name in story} <= set(names)
    Image.new("RGB", (40, 30), demo_project().shelf.papers[1].colour).save(tmp_path / "photo.png")
    assert main(["stories", str(kept), "--photo", str(tmp_path / "photo.png")]) == 0
    assert json.loads(capsys.readouterr().out)["stories"]["alike"][0] == names[1]
    assert main(["stories", str(kept), "--paper", "Nowhere"]) == 2
    assert "Nowhere" in capsys.readouterr().err
