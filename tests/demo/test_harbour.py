import itertools
import zlib
from collections import Counter

import pytest
import shapely

from peekpaper.demo.harbour import demo_project, part_numbers
from peekpaper.demo.panel import parts, svg_text
from peekpaper.demo.papers import COLOURWAYS, SHELF
from peekpaper.design.design import Design, Limits, Reading
from peekpaper.design.make import make_design
from peekpaper.drawing.read import read_drawing
from peekpaper.papers.colour import difference
from peekpaper.project.document import from_json, to_json
from peekpaper.project.link import to_link


@pytest.fixture(scope="module")
def design() -> Design:
    return make_design(read_drawing(svg_text().encode(), 0.07), Reading(), Limits())


@pytest.fixture(scope="module")
def names(design: Design) -> dict[int, str]:
    return part_numbers(tuple(parts()), [opening.area for opening in design.openings])


def numbered(names: dict[int, str], name: str) -> list[int]:
    return [number for number, part in names.items() if part == name]


def test_the_panel_is_eight_by_ten_inches_by_its_own_word(design):
    assert (design.width_mm, design.height_mm) == (pytest.approx(203.2), pytest.approx(254))
    assert not design.size_is_a_guess


def test_every_part_is_an_opening_and_every_opening_a_part(design, names):
    assert sorted(names) == [opening.number for opening in design.openings]
    assert len(names) == len(list(parts()))


def test_there_are_at_least_sixty_openings_to_back(design):
    assert sum(opening.area.area >= Limits().opening_mm2 for opening in design.openings) >= 60


@pytest.mark.parametrize(
    ("name", "count"), [("ray", 12), ("pane", 4), ("corner", 4), ("rail", 4), ("star", 3), ("small star", 4)]
)
def test_equal_parts_make_one_alike_group(design, names, name, count):
    group = {design.openings[number - 1].alike for number in numbered(names, name)}
    assert len(numbered(names, name)) == count
    assert len(group) == 1


def test_scallops_of_the_open_sea_are_alike(design, names):
    groups = Counter(design.openings[number - 1].alike for number in numbered(names, "body 2"))
    assert groups.most_common(1)[0][1] == 6


def test_stars_of_two_sizes_are_one_shape(design, names):
    stars = numbered(names, "star") + numbered(names, "small star")
    assert len({design.openings[number - 1].same_shape for number in stars}) == 1


def test_the_check_finds_one_loose_bit_in_the_hull(design, names):
    (warning,) = [warning for warning in design.warnings if warning.code == "loose-bit"]
    (hull,) = numbered(names, "hull")
    assert design.openings[hull - 1].area.contains(warning.at)


def test_bars_go_from_thin_to_wide(design):
    widths = [bar.width_mm for bar in design.bars]
    assert min(widths) < Limits().bar_mm
    assert max(widths) > 8
    assert {warning.code for warning in design.warnings} == {"loose-bit", "thin-bars", "small-openings"}


def test_a_half_inch_punch_covers_a_lamp_pane_with_a_lip(design, names):
    panes = [design.openings[number - 1].area for number in numbered(names, "pane")]
    for one, other in itertools.combinations(panes, 2):
        assert one.area == pytest.approx(10.16**2)
        assert one.distance(other) > 12.7 - 10.16 + 0.4


def test_the_drawing_is_the_same_every_time():
    assert svg_text() == svg_text()


def test_the_drawing_and_the_whole_project_stay_small():
    assert len(zlib.compress(svg_text().encode(), 9)) < 2500
    assert len(to_link(demo_project())) < 8000


def test_the_project_survives_its_file():
    assert from_json(to_json(demo_project())) == demo_project()


def test_the_demo_opens_backed_but_for_what_is_too_small(design):
    project = demo_project()
    for colourway in project.colourways:
        left_open = {opening.number for opening in design.openings} - colourway.papers.keys()
        small = {o.number for o in design.openings if o.area.area < project.limits.opening_mm2}
        assert left_open == small
    assert len(project.colourways) == 3


def test_every_colourway_gives_only_papers_on_the_shelf():
    shelf = {paper.id for paper in SHELF.papers}
    for _, _, papers in COLOURWAYS:
        assert set(papers.values()) <= shelf
        assert set(papers) == {part.name for part in parts()} - {"spark"}


def test_neighbours_with_different_parts_differ_to_the_eye(design, names):
    """CIEDE2000 of at least 10 between the papers of neighbours that are not parts of one kind."""
    colours = {paper.id: paper.colour for paper in SHELF.papers}
    for _, name, papers in COLOURWAYS:
        for bar in design.bars:
            one, other = names[bar.first], names.get(bar.second or 0, "spark")
            if "spark" in (one, other) or one == other or bar.width_mm > 4:
                continue
            assert difference(colours[papers[one]], colours[papers[other]]) >= 10, (name, one, other)


def test_the_porthole_is_no_part_of_the_card(design):
    assert sum(bit.area.area for bit in design.loose_bits) == pytest.approx(
        shapely.Point(0, 0).buffer(2.54, 64).area, rel=0.01
    )
