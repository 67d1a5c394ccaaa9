"""The pictures for gluing: SVG and PNG show the same, and a renderer agrees."""

import io
from dataclasses import replace

import numpy as np
import pytest
import resvg_py
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image
from pypdfium2 import PdfDocument
from sample_work import PAPERS, sample_work
from shapely import Point, Polygon, box
from sheet_readers import as_file

from peekpaper.project.project import Project
from peekpaper.sheets.choices import SheetChoices, SheetKind
from peekpaper.sheets.paper_names import trim_tags
from peekpaper.sheets.picture.colours import PALE_INK, ink_on
from peekpaper.sheets.picture.coverage import coverage
from peekpaper.sheets.picture.mat_view import mat_view
from peekpaper.sheets.picture.picture import Words
from peekpaper.sheets.picture.picture_pdf import pictures_pdf
from peekpaper.sheets.picture.picture_png import picture_png
from peekpaper.sheets.picture.picture_svg import picture_svg
from peekpaper.sheets.picture.placed_numbers import placed_numbers
from peekpaper.sheets.picture.raster import read_raster
from peekpaper.sheets.picture.views import RIM_MM, back_view, front_view
from peekpaper.sheets.take import take_sheets
from peekpaper.sheets.work import Look, Work


def striped(across: bool) -> Look:
    """Return stripes of rust and cream, 5 mm wide."""
    stripes = np.full((40, 40, 3), (190, 80, 50), np.uint8)
    (stripes.swapaxes(0, 1) if across else stripes)[:20] = (250, 240, 215)
    file = io.BytesIO()
    Image.fromarray(stripes).save(file, "JPEG", quality=98, subsampling=0)
    jpeg = file.getvalue()
    return Look(read_raster(jpeg, "Stripes"), np.asarray(Image.open(io.BytesIO(jpeg))), 10.0)


WORK = sample_work(24)
PATTERNED = replace(WORK, looks={PAPERS[0].id: striped(True), PAPERS[1].id: striped(False)})


def pixels(png: bytes) -> np.ndarray:
    return np.asarray(Image.open(as_file(png)).convert("RGB")).astype(float)


@pytest.mark.parametrize("work", [WORK, PATTERNED])
@pytest.mark.parametrize("view", [front_view, back_view])
def test_our_png_looks_like_what_a_renderer_makes_of_the_svg(view, work):
    picture = view(work, 1.0)
    ours = Image.open(as_file(picture_png(picture, 150)))
    theirs = bytes(
        resvg_py.svg_to_bytes(
            svg_string=picture_svg(picture).decode(), width=ours.width, height=ours.height, dpi=96
        )
    )
    difference = np.abs(pixels(picture_png(picture, 150)) - pixels(theirs)).max(axis=2)
    # Numbers are lettered in strokes in one and set in a typeface in the other; all else agrees.
    assert (difference > 64).mean() < 0.012


def test_papers_of_one_colour_differ_by_their_patterns_in_every_file_of_the_guide():
    same = replace(PATTERNED, project=recoloured(PATTERNED, "#be5032"))
    picture = front_view(same, 1.0)
    [page] = PdfDocument(pictures_pdf("Guide", [picture]))
    ours = pixels(picture_png(picture, 144))
    theirs = np.asarray(page.render(scale=2).to_pil().convert("RGB").resize(ours.shape[1::-1])).astype(float)
    # Lettering differs, and how a reader smooths the edges of stripes.
    assert (np.abs(ours - theirs).max(axis=2) > 64).mean() < 0.02
    # A row of openings is as wide as several stripes: rust and cream both show in each patterned one.
    for opening in same.design.openings:
        left, top, right, bottom = (round((side + RIM_MM) * 144 / 25.4) for side in opening.area.bounds)
        seen = ours[top:bottom, left:right, 2]
        blues = {"rust": 50, "cream": 215}
        shown = {name for name, blue in blues.items() if (np.abs(seen - blue) < 12).mean() > 0.1}
        piece = next(piece for piece in same.backing.pieces if opening.number in piece.openings)
        assert shown == ({"rust", "cream"} if piece.paper in same.looks else {"rust"})
    svg = picture_svg(picture).decode()
    assert svg.count("data:image/jpeg") == len(same.looks), "each picture stands in the file once"


def recoloured(work: Work, colour: str) -> Project:
    """Return a work's project with all its papers in one colour."""
    shelf = work.project.shelf
    papers = tuple(replace(paper, colour=colour) for paper in shelf.papers)
    return replace(work.project, shelf=replace(shelf, papers=papers))


def test_the_png_tells_its_true_size():
    picture = front_view(WORK, 1.0)
    image = Image.open(as_file(picture_png(picture, 200)))
    assert image.info["dpi"] == pytest.approx((200, 200), abs=0.05)
    assert image.width / 200 * 25.4 == pytest.approx(picture.width_mm, abs=0.13)


def test_the_back_view_is_the_front_view_turned_over():
    front = {mark.text: mark for mark in front_view(WORK, 1.0).marks if isinstance(mark, Words)}
    back = back_view(WORK, 1.0)
    for mark in back.marks:
        if isinstance(mark, Words):
            assert back.width_mm - mark.x == pytest.approx(front[mark.text].x, abs=1.0)
            assert mark.y == pytest.approx(front[mark.text].y, abs=1.0)


def test_both_views_come_as_svg_and_png():
    names = [file.name for file in take_sheets(WORK, SheetChoices(kinds=(SheetKind.GLUE_UP,)))]
    for side in ("front", "back"):
        assert f"harbour-panel glue-up {side}.svg" in names
        assert f"harbour-panel glue-up {side}.png" in names


def star(points: int, radius: float, middle: tuple[float, float]) -> Polygon:
    angle = np.linspace(0, 2 * np.pi, 2 * points, endpoint=False)
    reach = radius * np.where(np.arange(2 * points) % 2, 1, 0.45)
    return Polygon(np.column_stack([reach * np.cos(angle), reach * np.sin(angle)]) + middle)


@settings(max_examples=40)
@given(
    points=st.integers(3, 9),
    radius=st.floats(2, 18),
    x=st.floats(5, 35),
    y=st.floats(5, 25),
    hole=st.booleans(),
)
def test_covered_shares_add_up_to_the_area(points, radius, x, y, hole):
    shape = star(points, radius, (x, y))
    if hole:
        shape = Polygon(shape.exterior, [Point(x, y).buffer(radius / 5).exterior.coords])
    shape = shapely.geometry.polygon.orient(shape)
    rings = [shapely.get_coordinates(ring) for ring in (shape.exterior, *shape.interiors)]
    edges = np.concatenate([np.stack([ring[:-1], ring[1:]], axis=1) for ring in rings])
    shares = coverage(edges, 40, 30)
    assert shares.min() >= 0
    assert shares.max() <= 1
    inside = shape.intersection(shapely.box(0, 0, 40, 30))
    # Four scan lines to a pixel: the error is a small part of a pixel along the outline.
    assert abs(shares.sum() - inside.area) <= 0.04 * shape.length + 0.1


def test_every_number_has_its_place_and_touches_no_line_and_no_other_number():
    areas = [
        Point(10 + 14 * (index % 8), 10 + 12 * (index // 8)).buffer(0.7 if index % 3 else 5)
        for index in range(40)
    ]
    texts = [str(index + 1) for index in range(40)]
    numbers = placed_numbers(areas, texts, 1.5, 3.0, areas)
    assert sorted(number.text for number in numbers) == sorted(texts)
    boxes = []
    for number in numbers:
        half = 0.39 * len(number.text) * number.cap_height, number.cap_height / 2
        boxes.append(
            shapely.box(number.x - half[0], number.y - half[1], number.x + half[0], number.y + half[1])
        )
        assert number.cap_height >= 1.5
        assert (number.leader is None) == areas[number.area].contains(boxes[-1])
        assert all(not area.exterior.intersects(boxes[-1]) for area in areas)
        if number.leader is not None:
            assert areas[number.area].contains(Point(number.leader[1]))
    assert not any(one.intersects(other) for index, one in enumerate(boxes) for other in boxes[index + 1 :])


@pytest.mark.parametrize(
    ("paper", "ink"),
    [("#ffffff", "#1d2430"), ("#f2c14e", "#1d2430"), ("#1b2a49", "#ffffff"), ("#000000", "#ffffff")],
)
def test_numbers_are_dark_on_light_papers_and_light_on_dark_ones(paper, ink):
    assert ink_on(paper) == ink


def test_a_number_stands_within_a_bent_or_narrow_opening_where_it_fits_itself():
    outer, inner = Point(0, 0).buffer(20, quad_segs=32), Point(0, 0).buffer(16.5, quad_segs=32)
    arch = outer.difference(inner).intersection(box(-30, -30, 30, 0))
    slot = box(30, 0, 60, 2.4)
    hole = Point(80, 0).buffer(1)
    (bent, narrow, beside) = sorted(
        placed_numbers([arch, slot, hole], ["101", "102", "103"], 1.4, 3.4, [arch, slot, hole]),
        key=lambda number: number.text,
    )
    for number, area in ((bent, arch), (narrow, slot)):
        assert number.leader is None
        across, down = len(number.text) * 0.4 * number.cap_height, number.cap_height / 2
        digits = box(number.x - across, number.y - down, number.x + across, number.y + down)
        assert area.contains(digits)
    assert beside.leader is not None
    assert not hole.contains(Point(beside.x, beside.y))


def test_a_mat_is_drawn_though_the_tag_of_a_small_trim_hides_its_only_piece():
    work = sample_work(24)
    trim, mat = work.plan.trims[0], work.plan.mats[0]
    hidden = replace(trim.pieces[0], outline=box(2, 2, 3, 3))
    small = replace(trim, width_mm=6.0, height_mm=6.0, pieces=(hidden,))
    work = replace(work, plan=replace(work.plan, trims=(small, *work.plan.trims[1:])))
    marks = mat_view(work, mat, SheetChoices(), 1.0).marks
    words = [mark.text for mark in marks if isinstance(mark, Words) and mark.colour != PALE_INK]
    assert str(hidden.number) not in words
    assert words[0].startswith(trim_tags(work)[trim.id])
    assert all(str(placed.number) in words for placed in work.plan.trims[1].pieces)
