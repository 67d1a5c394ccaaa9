"""Motifs as a person sees them: flowers on a field, rings of a rosette, a traced web, and a person's own."""

from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from panels import design_of
from shapely import Point, Polygon, affinity, box

from peekpaper.design.design import Design
from peekpaper.design.motifs.motif import Motif
from peekpaper.design.motifs.motifs import found_motifs, with_decided
from peekpaper.project.carrying import carried
from peekpaper.project.project import Project, Source


def flower(x: float, y: float, size: float = 1.0, petals: int = 6) -> list[Polygon]:
    """Petals around a disc, with bars of about 1 mm, some 24 mm across."""
    petal = affinity.scale(Point(8, 0).buffer(4), 1, 0.7)
    parts = [affinity.rotate(petal, 360 / petals * turn, origin=(0, 0)) for turn in range(petals)]
    placed = [affinity.scale(part, size, size, origin=(0, 0)) for part in [*parts, Point(0, 0).buffer(3)]]
    return [affinity.translate(part, x, y) for part in placed]


def cell(inner: float, outer: float, start: float, end: float) -> Polygon:
    """Part of a ring between two distances from the origin and two angles (degrees)."""
    angles = np.radians(np.linspace(start, end, 9))
    way = np.stack([np.cos(angles), np.sin(angles)], axis=1)
    return Polygon(np.concatenate([way * outer, way[::-1] * inner]))


def web(sectors: int, rings: int, stray: float, seed: int) -> list[list[Polygon]]:
    """Ring by ring, the outermost first: cells of a web that no hand drew evenly."""
    random = np.random.default_rng(seed)
    edges = np.linspace(0, 360, sectors + 1)[:-1] + random.uniform(-stray, stray, sectors)
    edges = [*edges, edges[0] + 360]
    bounds = np.linspace(15, 85, rings + 1)
    return [
        [cell(near, far, one, other).buffer(-1.5) for one, other in pairwise(edges)]
        for near, far in reversed(list(pairwise(bounds)))
    ]


def panel_of(openings: list[Polygon]) -> Design:
    left, top, right, bottom = shapely.total_bounds(openings)
    return design_of(
        box(left - 20, top - 20, right + 20, bottom + 20).difference(shapely.union_all(openings))
    )


def seen(design: Design, drawn: list[list[Polygon]]) -> set[frozenset[int]]:
    """The numbers of the openings of each drawn group."""
    left, top = (
        min(bound) for bound in zip(*(part.bounds[:2] for group in drawn for part in group), strict=True)
    )
    tree = shapely.STRtree([opening.area for opening in design.openings])
    numbers = [opening.number for opening in design.openings]
    return {
        frozenset(
            numbers[tree.nearest(affinity.translate(part, 20 - left, 20 - top).representative_point())]
            for part in group
        )
        for group in drawn
    }


def groups(design: Design) -> set[frozenset[int]]:
    return {frozenset(motif.openings) for motif in found_motifs(design)}


@settings(max_examples=10, deadline=None)
@given(
    places=st.sets(st.tuples(st.integers(0, 3), st.integers(0, 3)), min_size=2, max_size=6),
    petals=st.integers(4, 7),
    seed=st.integers(0, 10**6),
)
def test_each_flower_on_a_field_is_a_motif(places: set[tuple[int, int]], petals: int, seed: int):
    random = np.random.default_rng(seed)
    flowers = [
        flower(50 * x + random.uniform(-4, 4), 50 * y, random.uniform(0.8, 1.2), petals)
        for x, y in sorted(places)
    ]
    design = panel_of([part for each in flowers for part in each])
    assert groups(design) == seen(design, flowers)


@settings(max_examples=6, deadline=None)
@given(sectors=st.integers(6, 12), rings=st.integers(2, 4), seed=st.integers(0, 10**6))
def test_each_ring_of_an_uneven_web_is_a_motif(sectors: int, rings: int, seed: int):
    drawn = web(sectors, rings, 8.0, seed)
    design = panel_of([part for ring in drawn for part in ring])
    assert groups(design) == seen(design, drawn)


def test_a_disc_within_its_ring_is_a_motif_of_its_own():
    ring = [cell(30, 50, 45 * turn + 3, 45 * turn + 42) for turn in range(8)]
    drawn = [ring, [Point(0, 0).buffer(24)]]
    design = panel_of([part for group in drawn for part in group])
    assert groups(design) == seen(design, drawn)


def test_a_lattice_is_one_motif_however_its_cells_lie_from_the_middle():
    cells = [box(14 * x, 14 * y, 14 * x + 11, 14 * y + 11) for x in range(5) for y in range(4)]
    assert groups(panel_of(cells)) == {frozenset(range(1, 21))}


def test_the_boughs_of_a_wreath_are_motifs_where_only_a_knot_holds_them_together():
    edges = -75 + np.cumsum([0, 17, 20, 23, 18, 24, 20, 26, 6])
    right = [
        cell(near, far, one, other).buffer(-1.2)
        for near, far in ((60, 74), (74, 90))
        for one, other in pairwise(edges)
    ]
    left = [affinity.scale(part, -1, 1, origin=(0, 0)) for part in right]
    knot = cell(58, 92, 80, 100).buffer(-1.2)
    openings = [*left, *right, knot]
    every = shapely.union_all(openings)
    design = design_of(every.buffer(3).difference(every))
    assert sorted(len(group) for group in groups(design)) == [1, 16, 16]


def test_holes_at_the_corners_of_several_cards_are_a_motif_a_card():
    holes = [[Point(120 * card + x, y).buffer(3) for x in (0, 70) for y in (0, 50)] for card in range(3)]
    cards = [
        box(120 * card - 10, -10, 120 * card + 80, 60).difference(shapely.union_all(each))
        for card, each in enumerate(holes)
    ]
    assert sorted(len(group) for group in groups(design_of(shapely.union_all(cards)))) == [4, 4, 4]


@pytest.mark.parametrize("count", [0, 1])
def test_few_openings_are_few_motifs(count: int):
    card = box(0, 0, 40, 40).difference(shapely.union_all([Point(20, 20).buffer(5)][:count]))
    design = design_of(card)
    assert len(found_motifs(design)) == len(design.openings)


def test_a_persons_own_motifs_take_their_openings_from_what_was_found():
    design = panel_of([*flower(0, 0), *flower(60, 0)])
    one, other = found_motifs(design)
    stray = other.openings[0]
    own = Motif("rose", (*one.openings, stray, 999))
    rose, rest = with_decided((one, other), (own, Motif("again", (stray,))), design)
    assert (rose.name, set(rose.openings)) == ("rose", {*one.openings, stray})
    assert rest == Motif("", other.openings[1:])


@settings(max_examples=30, deadline=None)
@given(
    own=st.lists(st.sets(st.integers(0, 20), max_size=8), max_size=4),
    names=st.lists(st.text(max_size=3), max_size=4),
)
def test_each_opening_is_in_one_motif_whatever_a_person_decides(own: list[set[int]], names: list[str]):
    decided = [Motif(name, tuple(sorted(numbers))) for name, numbers in zip(names, own, strict=False)]
    motifs = with_decided(FOUND, decided, FLOWERS)
    told = [number for motif in motifs for number in motif.openings]
    assert sorted(told) == [opening.number for opening in FLOWERS.openings]
    assert with_decided(FOUND, motifs, FLOWERS) == motifs


def test_a_motif_keeps_its_openings_where_a_mend_splits_one_and_numbers_all_anew():
    before = design_of(panel_of([*flower(0, 0), *flower(60, 0)]).card)
    rose = Motif("rose", found_motifs(before)[1].openings)
    middle = max(rose.openings, key=lambda number: before.openings[number - 1].area.bounds[0])
    right = before.openings[middle - 1].area
    bar = right.centroid.buffer(0.8).union(
        box(right.bounds[0] - 1, right.centroid.y - 0.8, *right.bounds[2:])
    )
    left = before.openings[0].area
    after = design_of(shapely.union_all([before.card, bar, left]))
    project = Project("p", "p", Source("p.svg", ""), motifs=(rose, Motif("gone", (1,))))
    [kept] = carried(project, before, after).motifs
    whole = shapely.union_all([opening.area for opening in after.openings if opening.number in kept.openings])
    was = shapely.union_all([before.openings[number - 1].area for number in rose.openings])
    assert kept.name == "rose"
    assert whole.symmetric_difference(was.difference(bar)).area < 0.01


FLOWERS = panel_of([*flower(0, 0), *flower(60, 0)])
FOUND = found_motifs(FLOWERS)
