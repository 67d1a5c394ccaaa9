"""Mends that the tool finds itself, against closed forms, brute force and independent libraries."""

import itertools
import math

import networkx as nx
import numpy as np
import pyclipper
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from panels import design_of, drawing_of, panels
from shapely import MultiPolygon, Point, Polygon

from peekpaper.breathing import out_of_breath
from peekpaper.design.design import Design, Habit, Limits, Reading
from peekpaper.design.make import make_design
from peekpaper.design.mending.holding import hold_parts
from peekpaper.design.mending.mend_all import added_to, mend_all
from peekpaper.design.mending.thin import thin_lines

BAR = 1.5


def mended(card: Polygon | MultiPolygon, habit: Habit | None = None) -> Design:
    """Return the design of a card after all of it is mended."""
    reading = Reading(habit=habit)
    design = make_design(drawing_of(card), reading, Limits())
    return make_design(drawing_of(card), reading, Limits(), added_to((), mend_all(design, Limits())))


def codes(design: Design) -> set[str]:
    return {warning.code for warning in design.warnings}


def waisted(waist: float) -> Polygon:
    """Return a frame with two panes whose bar between them is 6 mm wide and `waist` wide in the middle."""
    side = 3 - waist / 2
    left = Polygon([(5, 5), (37, 5), (37 + side, 20), (37, 35), (5, 35)])
    right = Polygon([(43, 5), (75, 5), (75, 35), (43, 35), (43 - side, 20)])
    return shapely.box(0, 0, 80, 40).difference(shapely.union_all([left, right]))


@pytest.mark.parametrize("waist", [0.2, 0.7, 1.2])
def test_a_waisted_bar_is_thickened_to_the_limit_where_it_is_thin_and_stays_as_it_is_elsewhere(
    waist: float,
) -> None:
    design = mended(waisted(waist))
    [between] = [bar for bar in design.bars if bar.second is not None]
    assert BAR <= between.width_mm <= BAR + 0.1
    added = design.card.difference(waisted(waist).buffer(1e-6))
    # Where the bar was as wide as the limit, the height above the waist is that of similar triangles.
    thin_to = 15 * (BAR - waist) / (6 - waist)
    assert added.bounds[1] >= 20 - thin_to - BAR
    assert added.bounds[3] <= 20 + thin_to + BAR
    # At the least the triangles that are missing to the limit, at most those and round shoulders.
    least = thin_to * (BAR - waist)
    assert least <= added.area + 1e-3 <= 1.25 * least + 0.25


def test_a_wedge_keeps_its_tip() -> None:
    wedge = Polygon([(0, 0), (60, 0), (60, 3), (40, 3), (30, 20), (20, 3), (0, 3)])
    assert len(out_of_breath(thin_lines(MultiPolygon([wedge]), BAR))) == 0


def test_a_thin_ring_is_thickened_all_round_from_its_middle() -> None:
    ring = Point(30, 30).buffer(20.25, quad_segs=64).difference(Point(30, 30).buffer(19.75, quad_segs=64))
    design = mended(ring)
    [opening] = design.openings
    inner = math.sqrt(opening.area.area / math.pi)
    outer = math.sqrt((opening.area.area + design.card.area) / math.pi)
    assert inner == pytest.approx(20 - 0.78, abs=0.05)
    assert outer == pytest.approx(20 + 0.78, abs=0.05)


def opened(card: MultiPolygon, radius: float) -> float:
    """Return the area that discs of a radius reach within a card (morphological opening, by pyclipper)."""
    scale = 1e5
    rings = [ring for part in card.geoms for ring in (part.exterior, *part.interiors)]
    paths = [np.rint(shapely.get_coordinates(ring)[:-1] * scale).astype(int).tolist() for ring in rings]
    for step in (-radius, radius):
        offset = pyclipper.PyclipperOffset(2.0, 0.0005 * scale)
        offset.AddPaths(paths, pyclipper.JT_ROUND, pyclipper.ET_CLOSEDPOLYGON)
        paths = offset.Execute(step * scale)
    return sum(pyclipper.Area(path) for path in paths) / scale**2


@settings(max_examples=20, deadline=None)
@given(panels(most_rows=3))
def test_after_mending_discs_of_the_limit_reach_all_card_but_corners(panel) -> None:  # type: ignore[no-untyped-def]
    design = mended(panel.card)
    assert len(design.card.geoms) == 1
    assert not codes(design) & {"loose-bit", "touching-edges", "separate-parts", "thin-bars", "thin-necks"}
    left_over = design.card.area - opened(design.card, BAR / 2)
    corners = sum(len(ring.coords) for part in design.card.geoms for ring in (part.exterior, *part.interiors))
    assert left_over <= 0.25 * BAR**2 * corners
    assert mend_all(design, Limits()) == ()


@settings(max_examples=25, deadline=None)
@given(panels(most_rows=3))
def test_no_opening_that_can_be_backed_is_lost(panel) -> None:  # type: ignore[no-untyped-def]
    before, after = design_of(panel.card), mended(panel.card)
    kept = shapely.union_all([opening.area for opening in after.openings])
    shift = np.array(after.origin_px) - np.array(before.origin_px)
    kept = shapely.transform(kept, lambda points: points + shift * after.mm_per_px)
    for opening in before.openings:
        if opening.area.area > 25:
            assert opening.area.intersection(kept).area > 0.3 * opening.area.area


def sun(rays: int) -> Polygon | MultiPolygon:
    """Return a round card with dots in round windows around its middle."""
    card = Point(50, 50).buffer(48, quad_segs=64)
    for turn in range(rays):
        angle = 2 * math.pi * turn / rays
        at = Point(50 + 34 * math.cos(angle), 50 + 34 * math.sin(angle))
        card = card.difference(at.buffer(6, quad_segs=32)).union(at.buffer(2.5, quad_segs=32))
    return card


def test_a_sun_with_twelve_loose_dots_gets_twelve_alike_mends() -> None:
    design = mended(sun(12))
    assert len(design.openings) == 12
    assert {opening.alike for opening in design.openings} == {1}
    areas = [opening.area.area for opening in design.openings]
    assert max(areas) - min(areas) < 0.05


@pytest.mark.parametrize("near", [0.5, 1.1])
def test_what_a_wider_bar_takes_from_one_of_some_alike_openings_is_taken_from_all(near: float) -> None:
    # Six alike hearts of an odd shape, turned and mirrored; a slot runs close by one of them.
    drop = Polygon([(0, 0), (12, 2), (14, 9), (5, 12), (1, 7)])
    drops = [
        shapely.affinity.translate(shapely.affinity.rotate(drop, 40 * turn), 15 + 25 * turn, 20)
        for turn in range(3)
    ]
    drops += [shapely.affinity.scale(one, 1, -1, origin=(0, 35)) for one in drops]
    slot = shapely.box(8, 2, 30, drops[0].bounds[1] - near)
    design = mended(shapely.box(0, 0, 100, 70).difference(shapely.union_all([*drops, slot])))
    backed = [opening for opening in design.openings if opening.area.area < 140]
    assert len({opening.alike for opening in backed if opening.area.area > 100}) == 1
    [bar] = [bar for bar in design.bars if bar.width_mm < 1.7]
    assert bar.width_mm >= BAR
    areas = [opening.area.area for opening in backed if opening.area.area > 100]
    assert len(areas) == 6
    assert max(areas) - min(areas) < 0.01
    assert max(areas) < drop.area


def test_bits_whose_bars_would_close_an_opening_that_can_be_backed_go() -> None:
    # Every other square of a board is a bit: between two there is no room for a bar and what is beside it.
    places = [(11 + 1.3 * x, 11 + 1.3 * y) for x in range(30) for y in range(4) if (x + y) % 2 == 0]
    bits = shapely.union_all([shapely.box(x, y, x + 1.05, y + 1.05) for x, y in places])
    window = shapely.box(10.7, 10.7, 50.3, 16.5)
    design = mended(shapely.box(0, 0, 61, 27).difference(window).union(bits), Habit.SOLIDS)
    [opening] = design.openings
    assert opening.area.area == pytest.approx(window.area, rel=0.01)
    assert design.loose_bits == ()


@st.composite
def dots(draw: st.DrawFn) -> list[Polygon]:
    """Draw a frame and up to six dots in its window that do not touch."""
    places = draw(
        st.lists(st.tuples(st.integers(0, 5), st.integers(0, 5)), min_size=1, max_size=6, unique=True)
    )
    shift = draw(st.integers(0, 1000))
    random = np.random.default_rng(shift)
    bits = [
        Point(12 + 14 * x + random.uniform(-3, 3), 12 + 14 * y + random.uniform(-3, 3)).buffer(1.5)
        for x, y in places
    ]
    frame = shapely.box(-4, -4, 98, 98).difference(shapely.box(0, 0, 94, 94))
    return [frame, *bits]


@settings(max_examples=40, deadline=None)
@given(dots())
def test_bars_hold_all_dots_with_little_more_than_the_least_length(parts: list[Polygon]) -> None:
    held = hold_parts(parts, range(1, len(parts)), BAR)
    bars = [line for each in held for line in each.bars]
    graph = nx.Graph()
    graph.add_nodes_from(range(len(parts)))
    for line in bars:
        ends = [
            int(np.argmin(shapely.distance(parts, end)))
            for end in (Point(line.coords[0]), Point(line.coords[-1]))
        ]
        graph.add_edge(*ends)
    assert nx.is_connected(graph)
    assert sum(line.length for line in bars) <= 1.1 * least_length(parts)


def least_length(parts: list[Polygon]) -> float:
    """Return the least total length of bars that join all parts, by trying every tree (Pruefer 1918)."""
    count = len(parts)
    lengths = [[one.distance(other) for other in parts] for one in parts]
    if count == 2:
        return lengths[0][1]
    return min(
        sum(lengths[one][other] for one, other in nx.from_prufer_sequence(list(code)).edges)
        for code in itertools.product(range(count), repeat=count - 2)
    )


def test_what_wider_bars_leave_too_small_to_cut_is_filled_and_what_came_so_small_stays() -> None:
    slit, pinhole = shapely.box(5, 16, 15, 17.15), shapely.box(70, 36, 70.8, 36.8)
    panes = [shapely.box(5, 5, 75, 15.5), slit, shapely.box(5, 17.65, 75, 33), pinhole]
    design = mended(shapely.box(0, 0, 80, 40).difference(MultiPolygon(panes)))
    assert sorted(round(opening.area.area, 1) for opening in design.openings)[0] == 0.6
    assert len(design.openings) == 3


def test_parts_beside_one_another_become_one_card() -> None:
    parts = MultiPolygon([shapely.box(30 * x, 0, 30 * x + 20, 40) for x in range(4)])
    assert len(mended(parts.difference(Point(10, 20).buffer(5))).card.geoms) == 1


def test_edges_that_touch_along_a_side_get_a_bar_between_them() -> None:
    card = (
        shapely.box(0, 0, 80, 40)
        .difference(shapely.box(5, 5, 40, 35))
        .difference(shapely.box(40.01, 5, 75, 35))
    )
    design = mended(card)
    [between] = [bar for bar in design.bars if bar.second is not None]
    assert between.width_mm >= BAR
    assert "touching-edges" not in codes(design)


def test_a_large_loose_bit_is_held_evenly_on_four_sides() -> None:
    frame = shapely.box(0, 0, 120, 120).difference(shapely.box(10, 10, 110, 110))
    [held] = hold_parts([frame, shapely.box(20, 20, 100, 100)], [1], BAR)
    ways = sorted(
        round(math.degrees(math.atan2(y - 60, x - 60))) % 360 for (x, y), _ in (b.coords for b in held.bars)
    )
    assert ways == [0, 90, 180, 270]


def test_a_slit_that_can_be_backed_stays_open_between_thin_bars() -> None:
    panes = [shapely.box(5, 5, 75, 14.6), shapely.box(5, 15, 75, 15.5), shapely.box(5, 15.9, 75, 35)]
    design = mended(shapely.box(0, 0, 80, 40).difference(MultiPolygon(panes)))
    assert len(design.openings) == 3
