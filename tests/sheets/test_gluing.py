import itertools
from dataclasses import replace

import numpy as np
import pytest
import shapely
import zxingcpp
from sample_work import PAPERS, sample_work, squares_project
from shapely import Polygon, affinity

from peekpaper.design.motifs.motif import Motif
from peekpaper.geometry.congruence import shape_of, turns
from peekpaper.gluing.glue_up import NEARLY_TOUCH_MM, glue_up
from peekpaper.gluing.interchangeable import interchangeable
from peekpaper.papers.paper import Direction, Shelf
from peekpaper.pipeline import Pipeline
from peekpaper.refusal import Refusal
from peekpaper.sheets.pages.qr import QUIET_MODULES, qr_code

WORK = sample_work(60)


def steps_of(work):
    return [step for group in glue_up(work.project, work.design, work.backing) for step in group.steps]


def crowded(work):
    """The same work with pieces so large that neighbours nearly touch."""
    pieces = tuple(
        replace(piece, outline=piece.outline.convex_hull.buffer(2.0, quad_segs=8))
        for piece in work.backing.pieces
    )
    return replace(work, backing=replace(work.backing, pieces=pieces))


def test_every_piece_is_glued_once_and_the_order_counts_through():
    steps = steps_of(WORK)
    assert [step.order for step in steps] == list(range(1, len(steps) + 1))
    assert sorted(step.piece for step in steps) == [piece.number for piece in WORK.backing.pieces]


def test_the_far_edge_is_glued_before_the_near_one():
    middles = {piece.number: piece.outline.centroid.y for piece in WORK.backing.pieces}
    groups = glue_up(WORK.project, WORK.design, WORK.backing)
    bands = [group.band for group in groups]
    assert bands == sorted(bands)
    assert groups[0].bands > 1
    for before, after in itertools.pairwise(groups):
        if before.band < after.band:
            near = min(middles[step.piece] for step in after.steps)
            assert all(middles[step.piece] < near + 1e-9 for step in before.steps)


def test_one_motif_is_glued_after_another_each_with_its_name_and_one_paper_at_a_time():
    numbers = [piece.number for piece in WORK.backing.pieces]
    motifs = (Motif("rose", tuple(numbers[:7])), Motif("", tuple(numbers[7:20])))
    groups = glue_up(WORK.project, WORK.design, WORK.backing, motifs)
    steps = [step for group in groups for step in group.steps]
    assert sorted(step.piece for step in steps) == numbers
    assert [step.order for step in steps] == list(range(1, len(steps) + 1))
    sections = [motif for motif, _ in itertools.groupby((group.motif, group.motif_name) for group in groups)]
    assert sorted(sections, key=str) == [(1, "rose"), (2, ""), (None, "")]
    assert {step.piece for group in groups if group.motif == 1 for step in group.steps} == set(numbers[:7])
    assert len({(group.motif, group.paper) for group in groups}) == len(groups)


def test_each_band_opens_one_paper_at_a_time():
    groups = glue_up(WORK.project, WORK.design, WORK.backing)
    assert len({(group.band, group.paper) for group in groups}) == len(groups)
    papers = {piece.number: piece.paper for piece in WORK.backing.pieces}
    for group in groups:
        assert {papers[step.piece] for step in group.steps} == {group.paper}


def test_no_two_pieces_in_a_row_nearly_touch_unless_the_step_says_to_wait():
    work = crowded(WORK)
    outlines = {piece.number: piece.outline for piece in work.backing.pieces}
    steps = steps_of(work)
    waits = 0
    for before, after in itertools.pairwise(steps):
        near = outlines[before.piece].distance(outlines[after.piece]) <= NEARLY_TOUCH_MM
        assert near == after.lets_set
        waits += after.lets_set
    in_reading_order = sorted(outlines)
    naive = sum(
        outlines[one].distance(outlines[other]) <= NEARLY_TOUCH_MM
        for one, other in itertools.pairwise(in_reading_order)
    )
    assert waits < naive / 4


def test_equal_pieces_of_one_paper_are_interchangeable_and_only_those():
    others = interchangeable(WORK.design, WORK.backing, WORK.project.shelf.papers, 0.8)
    pieces = {piece.number: piece for piece in WORK.backing.pieces}
    for number, piece in pieces.items():
        expected = {
            other.number
            for other in pieces.values()
            if other.paper == piece.paper and other.number % 4 == number % 4 and other.number != number
        }
        assert set(others[number]) == expected


def test_the_squares_of_a_grid_are_interchangeable_unless_they_lie_along_its_edge():
    project, pipeline = squares_project(8), Pipeline()
    others = interchangeable(
        pipeline.design(project),
        pipeline.backing(project),
        project.shelf.papers,
        project.backing.least_lip_mm,
    )
    sets = {tuple(sorted((number, *alike))) for number, alike in others.items()}
    assert sorted(map(len, sets)) == [4, 4 * 6, 6 * 6]


def test_a_piece_turned_or_not_fits_only_as_its_papers_direction_allows():
    square = WORK.backing.pieces[0].outline
    long = Polygon([(0, 0), (14, 0), (14, 9), (0, 9)])
    place = shapely.get_coordinates(square.centroid)[0] - (7, 4.5)
    lying = affinity.translate(long, *place)
    standing = affinity.rotate(affinity.translate(lying, 96, 0), 90)
    for direction, fits in ((Direction.ANY, True), (Direction.TWO_WAY, False), (Direction.ONE_WAY, False)):
        assert (2 in pair(lying, standing, direction)[1]) is fits
    over = affinity.rotate(affinity.translate(lying, 96, 0), 180)
    assert 2 in pair(lying, over, Direction.ONE_WAY)[1]


def pair(one: Polygon, other: Polygon, direction: Direction) -> dict[int, tuple[int, ...]]:
    """Two openings with pieces around them, of one paper with the given direction."""
    work = sample_work(24, whole_back=False)
    openings = tuple(
        replace(work.design.openings[index], area=area, alike=1) for index, area in enumerate((one, other))
    )
    pieces = tuple(
        replace(work.backing.pieces[index], paper="p1", outline=area.buffer(2, join_style="mitre"))
        for index, area in enumerate((one, other))
    )
    return interchangeable(
        replace(work.design, openings=openings),
        replace(work.backing, pieces=pieces),
        (replace(PAPERS[0], direction=direction),),
        0.8,
    )


def test_a_mirrored_piece_is_not_interchangeable_because_paper_has_a_face():
    hook = Polygon([(0, 0), (12, 0), (12, 4), (4, 4), (4, 10), (0, 10)])
    here, there = affinity.translate(hook, 8, 8), affinity.translate(hook, 60, 8)
    flipped = affinity.scale(there, -1, 1)
    assert 2 in pair(here, there, Direction.ANY)[1]
    assert 2 not in pair(here, flipped, Direction.ANY)[1]


def test_a_piece_that_would_show_in_a_neighbouring_opening_is_not_interchangeable():
    here, there = shapely.box(10, 10, 22, 22), shapely.box(60, 10, 72, 22)
    roomy = pair(here, there, Direction.ANY)
    assert 2 in roomy[1]
    work = sample_work(24, whole_back=False)
    areas = (here, there, shapely.box(73.5, 10, 80, 22))
    openings = tuple(
        replace(work.design.openings[index], area=area, alike=(1, 1, 2)[index])
        for index, area in enumerate(areas)
    )
    outlines = (here.buffer(3, join_style="mitre"), there.buffer(1, join_style="mitre"))
    pieces = tuple(
        replace(work.backing.pieces[index], paper="p1", outline=outline, lip_min_mm=1.0)
        for index, outline in enumerate(outlines)
    )
    others = interchangeable(
        replace(work.design, openings=openings), replace(work.backing, pieces=pieces), (PAPERS[0],), 0.8
    )
    assert others[1] == ()


@pytest.mark.parametrize("angle", [0.0, 30.0, 111.0, 180.0, 275.5])
def test_the_turn_between_two_equal_outlines_is_found(angle):
    hook = Polygon([(0, 0), (12, 0), (12, 4), (4, 4), (4, 10), (0, 10)])
    turned = affinity.translate(affinity.rotate(hook, angle), 40, 7)
    (found,) = turns(shape_of(turned), shape_of(hook))
    assert np.cos(found - np.radians(angle)) == pytest.approx(1, abs=1e-6)


def test_shelf_papers_without_a_known_paper_do_not_stop_the_guide():
    bare = replace(WORK, project=replace(WORK.project, shelf=Shelf()))
    assert len(steps_of(bare)) == len(steps_of(WORK))


@pytest.mark.parametrize("length", [10, 300, 1500, 2900])
def test_a_reader_of_codes_gets_the_link_back(length):
    link = "https://example.org/peekpaper/#" + "aB3-_" * (length // 5)
    code = qr_code(link)
    padded = np.pad(code.dark, QUIET_MODULES)
    picture = np.where(np.kron(padded, np.ones((5, 5))), 0, 255).astype(np.uint8)
    (read,) = zxingcpp.read_barcodes(picture)
    assert read.text == link
    assert str(read.format).endswith("QRCode") or "QR" in str(read.format)


def test_the_runs_of_a_code_cover_its_dark_modules_and_nothing_else():
    code = qr_code("https://example.org/#x")
    drawn = np.zeros((code.size, code.size), dtype=bool)
    for column, row, length in code.runs():
        assert not drawn[row, column : column + length].any()
        drawn[row, column : column + length] = True
    assert (drawn == np.pad(code.dark, QUIET_MODULES)).all()


def test_a_link_too_long_for_a_code_is_refused_with_a_way_on():
    with pytest.raises(Refusal, match="send the link itself"):
        qr_code("https://example.org/#" + "x" * 3000)
