import io
import re
from dataclasses import replace
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pytest
import resvg_py
import shapely
import trimesh
from ezdxf.path import make_path
from PIL import Image
from sample_work import sample_work
from shapely import Polygon, affinity
from sheet_readers import SVG, as_file, deviation, read_svg_cuts

from peekpaper.breathing import out_of_breath
from peekpaper.design.division.divide import divided
from peekpaper.design.division.division import Joint
from peekpaper.drawing.read import read_drawing
from peekpaper.geometry.affine import moved
from peekpaper.pipeline import Pipeline
from peekpaper.project.document import new_project
from peekpaper.sheets.choices import DxfRelease, SheetChoices, SheetKind
from peekpaper.sheets.pages.glue_pages import glue_pages
from peekpaper.sheets.pages.template_pages import template_pages
from peekpaper.sheets.picture.picture import Words
from peekpaper.sheets.places import from_trim, size_on_mat
from peekpaper.sheets.take import take_sheets
from peekpaper.sources.read import read_source

PROMISED_MM = 0.02
WORK = sample_work(40)
# What a unit is called in the names of files.
WRITTEN = {"in": "inches", "mm": "mm"}


def cut_files(work=WORK, **choices) -> dict[str, bytes]:
    kinds = choices.pop("kinds", (SheetKind.CUT,))
    return {file.name: file.data for file in take_sheets(work, SheetChoices(kinds=kinds, **choices))}


def planned(work, mat: int) -> dict[str, dict[str, Polygon]]:
    """The outlines on a mat as the plan has them, by trim and piece."""
    return {
        f"trim-{trim.id}": {
            f"piece-{placed.number}": shapely.transform(
                placed.outline, lambda points, trim=trim: moved(points, from_trim(trim))
            )
            for placed in trim.pieces
        }
        for trim in work.plan.trims
        if trim.mat == mat
    }


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_each_piece_of_a_mat_is_within_two_hundredths_of_a_millimetre_of_the_plan(unit):
    files = cut_files(unit=unit)
    for mat in WORK.plan.mats:
        cuts = read_svg_cuts(files[f"harbour-panel mat {mat.number}.svg"])
        expected = planned(WORK, mat.number)
        assert (cuts.width_mm, cuts.height_mm) == pytest.approx((mat.width_mm, mat.height_mm), abs=1e-4)
        assert cuts.groups.keys() == expected.keys()
        for trim, pieces in expected.items():
            assert cuts.groups[trim].keys() == pieces.keys()
            for name, outline in pieces.items():
                assert deviation(cuts.groups[trim][name], outline) <= PROMISED_MM, name


def test_pieces_lie_inside_the_rectangles_of_their_trims_turned_or_not():
    assert any(trim.turned for trim in sample_work(60).plan.trims)
    for trim in sample_work(60).plan.trims:
        width, height = size_on_mat(trim)
        rectangle = shapely.box(trim.x_mm, trim.y_mm, trim.x_mm + width, trim.y_mm + height)
        for placed in trim.pieces:
            outline = shapely.transform(
                placed.outline, lambda points, trim=trim: moved(points, from_trim(trim))
            )
            assert rectangle.buffer(-2.9).contains(outline)


def test_a_trim_that_lies_turned_is_a_quarter_turn_clockwise_on_screen():
    work = sample_work(60)
    trim = next(trim for trim in work.plan.trims if trim.turned)
    turned = [affinity.rotate(placed.outline, 90, origin=(0, 0)) for placed in trim.pieces]
    expected = [affinity.translate(shape, trim.x_mm + trim.height_mm, trim.y_mm) for shape in turned]
    actual = planned(work, trim.mat)[f"trim-{trim.id}"].values()
    for shape, other in zip(actual, expected, strict=True):
        assert shape.equals_exact(other, 1e-9)


def test_the_card_has_its_openings_and_its_finished_size():
    cuts = read_svg_cuts(cut_files(unit="mm")["harbour-panel card.svg"])
    assert (cuts.width_mm, cuts.height_mm) == pytest.approx((WORK.design.width_mm, WORK.design.height_mm))
    (outside,) = cuts.groups["outside"].values()
    (card,) = WORK.design.card.geoms
    assert deviation(outside, Polygon(card.exterior)) <= PROMISED_MM
    for opening, ring in zip(cuts.groups["openings"].values(), card.interiors, strict=True):
        assert deviation(opening, Polygon(ring)) <= PROMISED_MM


def test_openings_are_cut_before_the_outside_so_that_the_card_stays_put():
    assert list(read_svg_cuts(cut_files()["harbour-panel card.svg"]).groups) == ["openings", "outside"]


def test_the_whole_back_is_a_file_of_its_own_where_there_is_one():
    cuts = read_svg_cuts(cut_files(unit="mm")["harbour-panel whole-back.svg"])
    (outside,) = cuts.groups["outside"].values()
    assert deviation(outside, WORK.backing.whole_back.geoms[0]) <= PROMISED_MM
    assert not any("whole-back" in name for name in cut_files(sample_work(12, whole_back=False)))


def test_curved_outlines_are_written_as_curves_and_panes_as_lines():
    files = cut_files()
    assert read_svg_cuts(files["harbour-panel mat 1.svg"]).curves > 0
    panes = sample_work(4)
    card = read_svg_cuts(cut_files(panes)["harbour-panel card.svg"]).groups["openings"]
    square = card["opening-1"]
    assert len(shapely.simplify(square, 1e-6).exterior.coords) == 5


def test_mirrored_files_are_the_same_cuts_turned_over():
    plain = read_svg_cuts(cut_files(unit="mm")["harbour-panel mat 1.svg"])
    over = read_svg_cuts(cut_files(unit="mm", mirrored=True)["harbour-panel mat 1.svg"])
    for trim, pieces in plain.groups.items():
        for name, outline in pieces.items():
            flipped = affinity.scale(outline, -1, 1, origin=(plain.width_mm / 2, 0))
            assert deviation(over.groups[trim][name], flipped) <= 0.002


def test_each_paper_gets_its_own_file_by_choice_and_together_they_are_the_mat():
    files = cut_files(unit="mm", per_paper=True)
    whole = read_svg_cuts(files["harbour-panel mat 1.svg"]).groups
    parts = [
        read_svg_cuts(data).groups
        for name, data in files.items()
        if name.startswith("harbour-panel mat 1 paper")
    ]
    assert sorted(trim for part in parts for trim in part) == sorted(whole)
    assert "harbour-panel mat 1 paper A sea-glass.svg" in files


def test_guides_and_size_check_are_off_unless_asked_for():
    for data in cut_files().values():
        assert b"guide" not in data
        assert b"size-check" not in data


def test_guides_are_in_a_layer_of_their_own_and_leave_the_cuts_alone():
    plain, guided = cut_files(), cut_files(guides=True, size_check=True)
    for name, data in plain.items():
        assert read_svg_cuts(guided[name]).groups.keys() == read_svg_cuts(data).groups.keys()
    assert b'id="guide"' in guided["harbour-panel mat 1.svg"]


@pytest.mark.parametrize(("unit", "side"), [("in", 25.4), ("mm", 20.0)])
def test_the_size_check_is_a_square_of_the_promised_side_clear_of_all_trims(unit, side):
    for name, data in cut_files(unit=unit, size_check=True, per_paper=True).items():
        (square,) = read_svg_cuts(data, "size-check").groups["size-check"].values()
        left, top, right, bottom = square.bounds
        assert (right - left, bottom - top) == pytest.approx((side, side), abs=1e-3)
        sheet = read_svg_cuts(data)
        assert bottom <= sheet.height_mm
        assert right <= sheet.width_mm
        if "mat" in name:
            for trim in (trim for trim in WORK.plan.trims if re.search(rf"mat {trim.mat}\b", name)):
                width, height = size_on_mat(trim)
                assert not square.intersects(
                    shapely.box(trim.x_mm, trim.y_mm, trim.x_mm + width, trim.y_mm + height)
                )


def test_the_size_check_of_one_papers_file_lies_on_no_trim_of_another_paper():
    first, second = (next(trim for trim in WORK.plan.trims if trim.paper == paper) for paper in ("p1", "p2"))
    others = replace(second, mat=1, turned=False, x_mm=60.0, y_mm=60.0, width_mm=240.0, height_mm=240.0)
    work = replace(WORK, plan=replace(WORK.plan, trims=(first, others)))
    files = cut_files(work, unit="mm", size_check=True, per_paper=True)
    data = files["harbour-panel mat 1 paper A sea-glass.svg"]
    (square,) = read_svg_cuts(data, "size-check").groups["size-check"].values()
    assert not square.intersects(shapely.box(60, 60, 300, 300))


def test_a_full_mat_keeps_its_size_and_says_that_it_has_no_room_for_the_size_check():
    trim = replace(WORK.plan.trims[0], width_mm=300.0, height_mm=300.0)
    full = replace(WORK, plan=replace(WORK.plan, trims=(trim,)))
    data = cut_files(full, unit="mm", size_check=True)["harbour-panel mat 1.svg"]
    assert b"size-check" not in data
    assert ElementTree.fromstring(data).findtext(f"{SVG}title").endswith("(no room for the size check)")
    assert read_svg_cuts(data).height_mm == pytest.approx(304.8)


def test_the_sheet_of_a_card_narrower_than_the_size_check_is_widened_to_hold_it():
    narrow = replace(WORK, design=replace(WORK.design, width_mm=10.0))
    data = cut_files(narrow, unit="in", size_check=True)["harbour-panel card.svg"]
    (square,) = read_svg_cuts(data, "size-check").groups["size-check"].values()
    assert square.bounds[0] > 0
    assert square.bounds[2] < read_svg_cuts(data).width_mm


def test_a_renderer_shows_the_cuts_where_the_plan_has_them():
    data = cut_files(unit="mm")["harbour-panel mat 1.svg"].decode()
    dots_per_mm = 8
    png = bytes(
        resvg_py.svg_to_bytes(svg_string=data, background="white", dpi=96, zoom=dots_per_mm * 25.4 / 96)
    )
    dark = np.asarray(Image.open(as_file(png)).convert("L")) < 200
    scale = dark.shape[1] / WORK.plan.mats[0].width_mm
    rows, columns = np.nonzero(dark)
    seen = shapely.points((columns + 0.5) / scale, (rows + 0.5) / scale)
    lines = shapely.union_all(
        [shape.exterior for pieces in planned(WORK, 1).values() for shape in pieces.values()]
    )
    assert shapely.distance(seen, lines).max() <= 1.5 / scale
    hit = np.zeros_like(dark)
    hit[rows, columns] = True
    for point in shapely.get_coordinates(shapely.segmentize(lines, 2.0)):
        x, y = (point * scale).astype(int)
        assert hit[max(y - 1, 0) : y + 2, max(x - 1, 0) : x + 2].any()


def dxf_polygons(data: bytes, name: str, tmp_path) -> tuple[list[Polygon], ezdxf.document.Drawing]:
    path = tmp_path / name
    path.write_bytes(data)
    drawing = ezdxf.readfile(path)
    mm = {1: 25.4, 4: 1.0}[drawing.header["$INSUNITS"]]
    rings = [
        np.array([(point.x * mm, point.y * mm) for point in make_path(entity).flattening(0.0005 / mm)])
        for entity in drawing.modelspace()
        if entity.dxf.layer == "CUT"
    ]
    return [Polygon(ring) for ring in rings], drawing


@pytest.mark.parametrize("release", DxfRelease)
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_dxf_pieces_are_within_two_hundredths_of_a_millimetre_of_the_plan(unit, release, tmp_path):
    files = cut_files(kinds=(SheetKind.DXF,), unit=unit, dxf_releases=(release,))
    for mat in WORK.plan.mats:
        name = f"harbour-panel mat {mat.number} {WRITTEN[unit]} {release}.dxf"
        found, drawing = dxf_polygons(files[name], name, tmp_path)
        audit = drawing.audit()
        assert (audit.errors, audit.fixes) == ([], [])
        assert drawing.dxfversion == {DxfRelease.R12: "AC1009", DxfRelease.R2018: "AC1032"}[release]
        expected = [shape for pieces in planned(WORK, mat.number).values() for shape in pieces.values()]
        assert len(found) == len(expected)
        for shape, outline in zip(found, expected, strict=True):
            upright = affinity.affine_transform(outline, [1, 0, 0, -1, 0, mat.height_mm])
            assert deviation(shape, upright) <= PROMISED_MM


@pytest.mark.parametrize("release", DxfRelease)
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_a_second_reader_sees_the_same_card_in_the_same_unit(unit, release):
    name = f"harbour-panel card {WRITTEN[unit]} {release}.dxf"
    data = cut_files(kinds=(SheetKind.DXF,), unit=unit, dxf_releases=(release,))[name]
    path = trimesh.load_path(io.BytesIO(data), file_type="dxf")
    assert path.units == {"mm": "millimeters", "in": "inches"}[unit]
    mm = {"mm": 1.0, "in": 25.4}[unit]
    (card,) = WORK.design.card.geoms
    size = (WORK.design.width_mm, WORK.design.height_mm)
    assert path.bounds.tolist() == [[0, 0], pytest.approx(np.array(size) / mm, abs=0.01 / mm)]
    assert path.is_closed
    assert len(path.paths) == 1 + len(card.interiors)
    length = sum(ring.length for ring in (card.exterior, *card.interiors))
    assert path.length * mm == pytest.approx(length, rel=2e-4)


@pytest.mark.parametrize(("unit", "release"), zip(["mm", "in"], DxfRelease, strict=True))
def test_the_dxf_of_a_card_opens_again_with_the_same_openings(unit, release):
    name = f"harbour-panel card {WRITTEN[unit]} {release}.dxf"
    text = read_source(cut_files(kinds=(SheetKind.DXF,), unit=unit, dxf_releases=(release,))[name])
    design = Pipeline().design(new_project(name, text))
    assert not design.size_is_a_guess
    assert len(design.openings) == len(WORK.design.openings)
    # Finer than a design is looked at, whose chords may stray as far again.
    shapes = read_drawing(text.encode(), 0.02).shapes
    drawn = [Polygon(each.line) for shape in shapes for each in shape.contours]
    drawn = [affinity.scale(shape, 25.4 / 96, 25.4 / 96, origin=(0, 0)) for shape in drawn]
    left, top, _, _ = shapely.total_bounds(drawn)
    tree = shapely.STRtree([shape.centroid for shape in drawn])
    for opening in WORK.design.openings:
        there = affinity.translate(opening.area, left, top)
        assert deviation(there, drawn[tree.nearest(there.centroid)]) <= PROMISED_MM


def test_old_dxf_files_have_only_what_old_readers_know():
    files = cut_files(kinds=(SheetKind.DXF,), guides=True, dxf_releases=(DxfRelease.R12,))
    lines = files["harbour-panel mat 1 inches R12.dxf"].decode("ascii").split("\n")
    kinds = {
        value.strip() for code, value in zip(lines[::2], lines[1::2], strict=False) if code.strip() == "0"
    }
    assert kinds == {"SECTION", "ENDSEC", "POLYLINE", "VERTEX", "SEQEND", "EOF"}


def test_the_cut_layer_holds_nothing_but_closed_paths():
    from xml.etree import ElementTree

    for data in cut_files(guides=True, size_check=True).values():
        root = ElementTree.fromstring(data)
        (cut,) = (group for group in root if group.get("id") == "cut")
        for element in cut.iter():
            assert element.tag in {f"{SVG}g", f"{SVG}title", f"{SVG}path"}
            if element.tag == f"{SVG}path":
                assert element.get("d").count("M") == 1
                assert element.get("d").endswith("Z")


def test_the_size_check_makes_no_card_file_larger_than_the_mat_and_lies_in_an_opening_instead():
    mat = replace(
        WORK.project.plan, mat_width_mm=WORK.design.width_mm + 5, mat_height_mm=WORK.design.height_mm
    )
    opening = shapely.box(10, 10, 60, 60)
    card = shapely.difference(WORK.design.card.geoms[0], opening)
    for area, has_room in ((card, True), (WORK.design.card.geoms[0], False)):
        design = replace(WORK.design, card=shapely.MultiPolygon([area]))
        work = replace(WORK, design=design, project=replace(WORK.project, plan=mat))
        data = cut_files(work, unit="mm", size_check=True)["harbour-panel card.svg"]
        sheet = read_svg_cuts(data)
        assert (sheet.width_mm, sheet.height_mm) == pytest.approx(
            (design.width_mm, design.height_mm), abs=1e-4
        )
        if has_room:
            (square,) = read_svg_cuts(data, "size-check").groups["size-check"].values()
            assert opening.contains(square)
        else:
            assert (
                ElementTree.fromstring(data).findtext(f"{SVG}title").endswith("(no room for the size check)")
            )


def test_a_card_in_parts_comes_as_files_that_each_fit_the_mat_and_that_together_are_the_card():
    mat_mm = 100.0
    design = WORK.design
    division = out_of_breath(divided(design.card, [], (mat_mm, mat_mm), Joint.EDGE))
    plan = replace(WORK.project.plan, mat_width_mm=mat_mm, mat_height_mm=mat_mm)
    work = replace(WORK, design=replace(design, division=division), project=replace(WORK.project, plan=plan))
    files = cut_files(work)
    count = len(division.parts)
    total = 0.0
    for part in division.parts:
        cuts = read_svg_cuts(files[f"harbour-panel card part {part.number} of {count}.svg"])
        assert max(cuts.width_mm, cuts.height_mm) <= mat_mm + 1e-4
        outside = shapely.union_all(list(cuts.groups["outside"].values()))
        total += outside.area - sum(hole.area for hole in cuts.groups.get("openings", {}).values())
    assert total == pytest.approx(design.card.area, rel=1e-3)
    backs = [name for name in files if "whole-back part" in name]
    assert len(backs) >= 4
    for name in backs:
        assert max(read_svg_cuts(files[name]).width_mm, read_svg_cuts(files[name]).height_mm) <= mat_mm + 1e-4


def test_the_guide_and_the_templates_of_a_card_in_parts_tell_how_they_go_together():
    division = out_of_breath(divided(WORK.design.card, [], (100.0, 100.0), Joint.TAB))
    work = replace(WORK, design=replace(WORK.design, division=division))
    titles = [page.title for page in glue_pages(work, SheetChoices())]
    assert any(title.endswith("Parts of the card") for title in titles)
    said = [
        mark.text
        for page in glue_pages(work, SheetChoices())
        for mark in page.marks
        if isinstance(mark, Words)
    ]
    assert any("one part after the other" in text for text in said)
    titles = [page.title for page in template_pages(work, SheetChoices())]
    for part in division.parts:
        assert any(f"Card, part {part.number} of {len(division.parts)}" in title for title in titles)
