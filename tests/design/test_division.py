"""A card larger than the mat, in parts: each fits, nothing is lost, and all of them hold together."""

import networkx as nx
import pytest
import shapely
import shapely.affinity
from panels import drawing_of, random_panel
from shapely import MultiPolygon, Polygon

from peekpaper.backing.backing import BackingChoices, WholeBack
from peekpaper.backing.make import make_backing
from peekpaper.breathing import out_of_breath
from peekpaper.design.design import Design, Limits, MatSize, Reading
from peekpaper.design.division.divide import divided
from peekpaper.design.division.division import Joint
from peekpaper.design.division.sheet_parts import sheet_parts
from peekpaper.design.make import make_design
from peekpaper.design.mending.mends import DivideCard, Mend
from peekpaper.design.mending.proposals import proposals

MOST = (120.0, 90.0)


def fits(area: MultiPolygon, most: tuple[float, float]) -> bool:
    left, top, right, bottom = area.bounds
    sides = sorted((right - left, bottom - top))
    return all(side <= own + 1e-6 for side, own in zip(sides, sorted(most), strict=True))


def design_in_parts(card: Polygon, mat: MatSize, joint: Joint = Joint.TAB) -> Design:
    mends = (Mend("m1", DivideCard(joint), "larger-than-mat"),)
    return make_design(drawing_of(card), Reading(), Limits(), mends, mat)


def large_card(seed: int) -> MultiPolygon:
    card = random_panel(seed, rows=2 + seed % 3, columns=1 + seed % 4, cell=45, bar=1.5 + seed % 5).card
    return MultiPolygon([shapely.affinity.scale(card, 2, 2, origin=(0, 0))])


@pytest.mark.parametrize("joint", list(Joint))
@pytest.mark.parametrize("seed", range(6))
def test_each_part_fits_and_together_they_are_the_card(seed: int, joint: Joint) -> None:
    card = large_card(seed)
    division = out_of_breath(divided(card, [], MOST, joint))
    assert division is not None
    areas = [part.area for part in division.parts]
    assert all(fits(area, MOST) for area in areas)
    assert shapely.union_all(areas).symmetric_difference(card).area < 1e-3
    if joint is Joint.EDGE:
        assert sum(area.area for area in areas) == pytest.approx(card.area, rel=1e-6)


@pytest.mark.parametrize("seed", range(6))
def test_tabs_hold_all_parts_together_and_never_peep_out(seed: int) -> None:
    card = large_card(seed)
    division = out_of_breath(divided(card, [], MOST, Joint.TAB))
    assert division is not None
    graph = nx.Graph()
    for place, part in enumerate(division.parts):
        graph.add_node(part.number)
        assert part.tab.difference(card).area < 1e-6
        for other in division.parts[:place]:
            if part.tab.intersection(other.area).area > 1:
                graph.add_edge(part.number, other.number)
    assert nx.is_connected(graph)
    # A small opening is whole in one part, with all of the card around it.
    holes = [
        Polygon(ring) for part in division.parts for piece in part.area.geoms for ring in piece.interiors
    ]
    for opening in (Polygon(ring) for ring in card.geoms[0].interiors):
        left, top, right, bottom = opening.bounds
        if max(right - left, bottom - top) < min(MOST) / 4:
            assert any(hole.symmetric_difference(opening).area < 1e-3 for hole in holes)


def test_a_frame_around_one_large_opening_is_cut_across_its_bars() -> None:
    frame = shapely.box(0, 0, 400, 400).difference(shapely.box(20, 20, 380, 380))
    design = design_in_parts(frame, MatSize())
    assert design.division is not None
    assert len(design.division.parts) == 4
    # Four laps of 10 mm on bars 20 mm wide, but for the least that the tabs keep from edges.
    tabs = [part.tab.area for part in design.division.parts]
    assert sum(tabs) == pytest.approx(4 * 10 * 20, rel=0.1)
    assert design.warnings == ()


def test_seams_follow_bars_instead_of_crossing_openings() -> None:
    # Panes of 60 mm with bars of 4 mm: a straight cut in the middle of the mat would go through panes.
    panes = [
        shapely.box(4 + 64 * column, 4 + 64 * row, 64 + 64 * column, 64 + 64 * row)
        for row in range(6)
        for column in range(6)
    ]
    grid = shapely.box(0, 0, 388, 388).difference(shapely.union_all(panes))
    division = design_in_parts(grid, MatSize()).division
    assert division is not None
    assert len(division.parts) == 4
    whole = [len(part.area.geoms[0].interiors) for part in division.parts]
    assert sum(whole) == 36


def test_a_design_that_fits_or_takes_too_many_parts_is_not_divided_and_says_so() -> None:
    frame = shapely.box(0, 0, 400, 400).difference(shapely.box(20, 20, 380, 380))
    fitting = design_in_parts(frame, MatSize(420, 420))
    assert (fitting.division, fitting.warnings) == (None, ())
    tiny = design_in_parts(frame, MatSize(30, 30))
    assert tiny.division is None
    [warning] = [each for each in tiny.warnings if each.code == "larger-than-mat"]
    assert warning.message.key == "warning.no-seam"
    # The rim of the mat holds no card either.
    rimmed = design_in_parts(frame, MatSize(rim_mm=20)).division
    assert rimmed is not None
    assert all(fits(part.area, (264.8, 264.8)) for part in rimmed.parts)


def test_loose_bits_are_cut_with_the_part_that_has_their_opening() -> None:
    discs = [shapely.Point(x, 50).buffer(20) for x in (50, 150, 250, 350)]
    bits = [shapely.Point(x, 50).buffer(8) for x in (50, 150, 250, 350)]
    card = shapely.box(0, 0, 400, 100).difference(shapely.union_all(discs)).union(shapely.union_all(bits))
    design = design_in_parts(card, MatSize(220, 120))
    assert design.division is not None
    assert [part.bits for part in design.division.parts] == [(1, 2), (3, 4)]


def test_a_whole_back_is_cut_away_from_the_seams_of_the_card() -> None:
    back = MultiPolygon([shapely.box(0, 0, 400, 250)])
    seam = shapely.LineString([(200, 0), (200, 250)])
    parts = sheet_parts(back, (304.8, 304.8), seam)
    assert len(parts) == 2
    assert all(fits(part, (304.8, 304.8)) for part in parts)
    assert shapely.union_all(parts).area == pytest.approx(back.area)
    assert parts[0].boundary.intersection(parts[1].boundary).distance(seam) >= 20


def test_the_last_word_on_the_joint_counts() -> None:
    frame = shapely.box(0, 0, 400, 100).difference(shapely.box(20, 20, 380, 80))
    mends = [Mend(f"m{number}", DivideCard(joint)) for number, joint in enumerate(Joint)]
    design = make_design(drawing_of(frame), Reading(), Limits(), mends)
    assert design.joint is Joint.EDGE


def test_parts_that_lie_edge_to_edge_need_a_whole_back() -> None:
    frame = shapely.box(0, 0, 400, 100).difference(shapely.box(20, 20, 100, 80))
    for joint, wanted, told in (
        (Joint.EDGE, None, True),
        (Joint.EDGE, WholeBack("p1"), False),
        (Joint.TAB, None, False),
    ):
        design = design_in_parts(frame, MatSize(), joint)
        backing = make_backing(design, BackingChoices(whole_back=wanted), {})
        assert ("parts-apart" in {warning.code for warning in backing.warnings}) == told


def test_a_card_is_offered_to_be_divided_both_ways_once_its_size_is_known() -> None:
    frame = shapely.box(0, 0, 400, 100).difference(shapely.box(20, 20, 380, 80))
    for physical, choices in ((True, ["divide", "divide-on-back"]), (False, [])):
        design = make_design(drawing_of(frame, physical=physical), Reading(), Limits())
        offered = [each for each in proposals(design, Limits(), MatSize()) if each is not None]
        assert [each.choice for each in offered if each.finding == "larger-than-mat"] == choices
        assert all(each.seams is not None and each.seams.length > 0 for each in offered)
