"""Every page read back by a PDF library that did not write it, as paths and as pixels."""

import itertools
import re
from dataclasses import replace

import numpy as np
import pytest
import shapely
from sample_work import PAPERS, sample_sheets, sample_work
from shapely import LineString, Point, Polygon, affinity
from sheet_readers import PdfPage, deviation, rastered, read_pdf

from peekpaper.geometry.outline import rectangle
from peekpaper.gluing.glue_up import GlueGroup, GlueStep
from peekpaper.papers.paper import Shelf
from peekpaper.sheets.choices import SheetChoices, SheetKind
from peekpaper.sheets.pages.glue_pages import glue_pages
from peekpaper.sheets.pages.page import type_area
from peekpaper.sheets.pages.template_pages import template_pages
from peekpaper.sheets.pages.tiles import OVERLAP_MM, tiled
from peekpaper.sheets.pages.trim_pages import trim_pages
from peekpaper.sheets.paper_sizes import PaperSize
from peekpaper.sheets.picture.picture import Anchor, Picture, Stroke, Words
from peekpaper.sheets.picture.typeface import text_width
from peekpaper.sheets.take import take_sheets
from peekpaper.words.words import read_words

OPENINGS = 40
WORK = sample_work(OPENINGS)
PIECES = {piece.number: piece for piece in WORK.backing.pieces}


def printed(kind: SheetKind, work=WORK, **choices) -> bytes:
    wanted = SheetChoices(kinds=(kind,), **choices)
    files = sample_sheets(OPENINGS, wanted) if work is WORK else take_sheets(work, wanted)
    (pdf,) = (file.data for file in files if file.media_type == "application/pdf")
    return pdf


def closed(page: PdfPage) -> list[Polygon]:
    return [Polygon(path) for path in page.paths if len(path) > 4 and np.allclose(path[0], path[-1])]


def same_shape(one: Polygon, other: Polygon) -> float:
    """How far two outlines differ once the first is laid on the second by its middle."""
    shift = shapely.get_coordinates(other.centroid)[0] - shapely.get_coordinates(one.centroid)[0]
    return deviation(affinity.translate(one, *shift), other)


def placed_shapes(work=WORK) -> dict[int, Polygon]:
    return {placed.number: placed.outline for trim in work.plan.trims for placed in trim.pieces}


@pytest.mark.parametrize("paper", PaperSize)
def test_every_page_has_the_size_of_its_paper(paper):
    for kind in (SheetKind.TEMPLATES, SheetKind.TRIM_LIST, SheetKind.GLUE_UP):
        for page in read_pdf(printed(kind, paper_size=paper)):
            sides = sorted((page.width_mm, page.height_mm))
            assert sides == pytest.approx([paper.width_mm, paper.height_mm], abs=0.01)


def test_printed_sheets_do_not_change_with_the_hour_they_are_made_at():
    data = printed(SheetKind.TEMPLATES)
    assert re.findall(rb"D:\d+", data) == [b"D:19800101000000"]


def test_every_piece_is_on_the_templates_once_within_two_hundredths_and_numbered():
    found: dict[int, int] = {}
    shapes = placed_shapes()
    for page in read_pdf(printed(SheetKind.TEMPLATES)):
        if not any(text.startswith("Pieces") for text, _ in page.words):
            continue
        polygons = closed(page)
        for text, (left, top, right, bottom) in page.words:
            middle = Point((left + right) / 2, (top + bottom) / 2)
            around = [polygon for polygon in polygons if polygon.contains(middle) and polygon.area < 2000]
            if text.isdigit() and around and int(text) in shapes:
                (outline,) = around
                assert same_shape(outline, shapes[int(text)]) <= 0.02
                assert not outline.exterior.intersects(shapely.box(left, top, right, bottom))
                found[int(text)] = found.get(int(text), 0) + 1
    assert found == dict.fromkeys(shapes, 1)


def test_mirrored_templates_show_the_pieces_turned_over():
    shapes = placed_shapes()
    for page in read_pdf(printed(SheetKind.TEMPLATES, mirrored=True)):
        polygons = closed(page)
        if any(text.startswith("Pieces") for text, _ in page.words):
            for text, (left, top, right, bottom) in page.words:
                middle = Point((left + right) / 2, (top + bottom) / 2)
                for outline in (shape for shape in polygons if shape.contains(middle) and shape.area < 2000):
                    assert same_shape(outline, affinity.scale(shapes[int(text)], -1, 1)) <= 0.02


def centroid_along(darkness: np.ndarray, points: np.ndarray, normals: np.ndarray, reach: int) -> np.ndarray:
    """Where the ink lies along each normal, in pixels from its point: the centre of the darkness."""
    steps = np.linspace(-reach, reach, 8 * reach + 1)
    x, y = (points[:, None] + steps[None, :, None] * normals[:, None]).transpose(2, 0, 1) - 0.5
    column, row = np.floor(x).astype(int), np.floor(y).astype(int)
    right, down = x - column, y - row
    value = (
        darkness[row, column] * (1 - right) * (1 - down)
        + darkness[row, column + 1] * right * (1 - down)
        + darkness[row + 1, column] * (1 - right) * down
        + darkness[row + 1, column + 1] * right * down
    )
    return (value * steps).sum(axis=1) / value.sum(axis=1)


def test_at_600_dots_per_inch_the_ink_of_each_piece_lies_on_its_outline():
    data = printed(SheetKind.TEMPLATES)
    checked = 0
    for index, page in enumerate(read_pdf(data)):
        if not any(text.startswith("Pieces") for text, _ in page.words):
            continue
        darkness = rastered(data, index)
        # The renderer stretches a page over whole pixels, so its resolution is not quite the one asked for.
        dots_per_mm = np.array(darkness.shape[::-1]) / (page.width_mm, page.height_mm)
        polygons = closed(page)
        for text, (left, top, right, bottom) in page.words:
            middle = Point((left + right) / 2, (top + bottom) / 2)
            inside = [shape for shape in polygons if shape.contains(middle) and shape.area < 2000]
            if not text.isdigit() or not inside:
                continue
            planned = placed_shapes()[int(text)]
            shift = (
                shapely.get_coordinates(inside[0].centroid)[0] - shapely.get_coordinates(planned.centroid)[0]
            )
            ring = shapely.segmentize(affinity.translate(planned, *shift).exterior, 0.5)
            corners = shapely.get_coordinates(ring)
            edges = np.diff(corners, axis=0)
            lengths = np.hypot(*edges.T)
            # Away from sharp corners, where the ink of both sides would be weighed together.
            keep = (lengths > 0.1) & (np.abs(turning(edges)) < 0.3)
            points = ((corners[:-1] + corners[1:]) / 2)[keep] * dots_per_mm
            normals = np.column_stack([-edges[:, 1], edges[:, 0]])[keep] / lengths[keep, None]
            offsets = centroid_along(darkness, points, normals, 6) / dots_per_mm.mean()
            assert np.abs(offsets).max() <= 0.02, text
            checked += 1
    assert checked == len(PIECES)


def turning(edges: np.ndarray) -> np.ndarray:
    angle = np.unwrap(np.arctan2(edges[:, 1], edges[:, 0]))
    before, after = np.diff(angle, prepend=angle[-1]), np.diff(angle, append=angle[0])
    wrap = (np.array([before, after]) + np.pi) % (2 * np.pi) - np.pi
    return np.abs(wrap).max(axis=0)


@pytest.mark.parametrize("paper", [PaperSize.A4, PaperSize.LETTER])
@pytest.mark.parametrize("kind", [SheetKind.TEMPLATES, SheetKind.TRIM_LIST, SheetKind.GLUE_UP])
def test_the_check_bar_on_every_page_measures_100_mm_and_4_in_at_600_dots_per_inch(kind, paper):
    data = printed(kind, paper_size=paper)
    dots_per_mm = 600 / 25.4
    for index in range(len(read_pdf(data))):
        darkness = rastered(data, index, foot_mm=30)
        axis = len(darkness) - (12.7 + 5) * dots_per_mm
        for offset, length in ((-2.2, 100.0), (2.2, 101.6)):
            row = darkness[int(axis + offset * dots_per_mm)]
            ticks = peaks(row[: int((12.7 + 105) * dots_per_mm)])
            assert (ticks[-1] - ticks[0]) / dots_per_mm == pytest.approx(length, abs=0.1)


def peaks(row: np.ndarray) -> list[float]:
    """The centres of the runs of ink in a row of pixels."""
    dark = np.flatnonzero(row > 0.2)
    runs = np.split(dark, np.flatnonzero(np.diff(dark) > 1) + 1)
    return [float((row[run] * run).sum() / row[run].sum()) for run in runs]


def test_a_card_larger_than_the_page_is_tiled_and_joins_up_along_its_crop_marks():
    work = sample_work(120)
    pages = [
        page
        for page in read_pdf(printed(SheetKind.TEMPLATES, work))
        if any(text.startswith("Card (") for text, _ in page.words)
    ]
    assert len(pages) > 1
    card = work.design.card.geoms[0]
    edges = shapely.union_all([card.exterior, *card.interiors])
    places = {}
    for page in pages:
        (title,) = (text for text, _ in page.words if text.startswith("Card ("))
        row, column = map(int, title[6:-1].split("-"))
        drawn = [path for path in page.paths if np.ptp(path, axis=0).max() > 1 and inside_frame(path, page)]
        places[row, column] = best_shift(drawn, edges)
    rows, columns = max(row for row, _ in places), max(column for _, column in places)
    assert len(places) == rows * columns
    for (row, column), place in places.items():
        if (row, column + 1) in places:
            step = place[0] - places[row, column + 1][0]
            assert step > 0
            width = 12.7 + 6 + OVERLAP_MM
            assert step + width < pages[0].width_mm


def test_a_drawing_that_fills_its_tiles_exactly_is_drawn_up_to_all_its_edges():
    free = type_area(PaperSize.LETTER)
    tile_width, tile_height = free.width - 12, free.height - 12
    width, height = 2 * tile_width - OVERLAP_MM, 2 * tile_height - OVERLAP_MM
    edges = Stroke((rectangle(0, 0, width, height),), "#ff0000", 0.2)
    leaves = tiled(Picture("Card", width, height, (edges,)), "Card", "", PaperSize.LETTER, read_words("en"))
    assert len(leaves) == 4
    for leaf in leaves:
        drawn = [
            line for mark in leaf.marks if getattr(mark, "colour", "") == "#ff0000" for line in mark.lines
        ]
        length = shapely.length(shapely.union_all([LineString(line) for line in drawn]))
        # Each of the four tiles holds a corner of the drawing, and the two edges that meet there.
        assert length == pytest.approx(tile_width + tile_height, abs=0.1)


def inside_frame(path: np.ndarray, page: PdfPage) -> bool:
    """Whether a path is part of the drawing: above the check bar and no crop mark."""
    return path[:, 1].max() < page.height_mm - 26 and len(path) > 2


def best_shift(paths: list[np.ndarray], edges) -> np.ndarray:
    """Return how far a tile's drawing is shifted from the card on whose edges it lies."""
    polygons = [Polygon(path) for path in paths if np.allclose(path[0], path[-1])]
    openings = [Polygon(ring) for ring in edge_rings(edges)]
    for polygon in polygons:
        for opening in openings:
            if abs(polygon.area - opening.area) < 0.05:
                shift = (
                    shapely.get_coordinates(polygon.centroid)[0]
                    - shapely.get_coordinates(opening.centroid)[0]
                )
                points = np.vstack([path - shift for path in paths])
                if shapely.distance(shapely.points(points), edges).max() <= 0.02:
                    return shift
    raise AssertionError("the tile's drawing lies nowhere on the card")


def edge_rings(edges) -> list[np.ndarray]:
    return [shapely.get_coordinates(part) for part in shapely.get_parts(shapely.line_merge(edges))]


def test_the_glue_up_guide_numbers_every_opening_where_it_is_from_behind():
    pages = read_pdf(printed(SheetKind.GLUE_UP))
    (back,) = (page for page in pages if any(text == "From the back" for text, _ in page.words))
    numbers = {text: box for text, box in back.words if text.isdigit() and box[1] > 35 and box[3] < 240}
    (outer,) = [
        path for path in back.paths if np.ptp(path[:, 0]) == max(np.ptp(other[:, 0]) for other in back.paths)
    ][:1]
    left, top = outer.min(axis=0)
    scale = np.ptp(outer[:, 0]) / WORK.design.width_mm
    for opening in WORK.design.openings:
        box = numbers[str(opening.number)]
        middle = Point((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
        mirrored = affinity.scale(opening.area, -1, 1, origin=(WORK.design.width_mm / 2, 0))
        on_page = affinity.translate(affinity.scale(mirrored, scale, scale, origin=(0, 0)), left, top)
        assert on_page.contains(middle), opening.number


def test_every_piece_has_one_box_to_tick_in_the_guide():
    pages = read_pdf(printed(SheetKind.GLUE_UP))
    ticked = []
    for page in pages:
        if any(text == "Glue-up guide" for text, _ in page.words):
            boxes = [shape for shape in closed(page) if abs(shape.area - 3.6**2) < 0.05]
            for text, (left, top, _, bottom) in page.words:
                if text.rstrip("*").isdigit() and any(
                    abs(box.bounds[2] + 1.6 - left) < 0.8
                    and box.bounds[1] < (top + bottom) / 2 < box.bounds[3]
                    for box in boxes
                ):
                    ticked.append(int(text.rstrip("*")))
    assert sorted(ticked) == sorted(PIECES)


def test_pages_are_numbered_and_named():
    for kind in (SheetKind.TEMPLATES, SheetKind.TRIM_LIST, SheetKind.GLUE_UP):
        pages = read_pdf(printed(kind))
        for number, page in enumerate(pages, 1):
            texts = [text for text, _ in page.words]
            assert f"Page {number} of {len(pages)}" in texts
            assert any(text.startswith("Harbour Panel") for text in texts)


def test_no_word_runs_off_its_page_or_over_another():
    for kind in (SheetKind.TEMPLATES, SheetKind.TRIM_LIST, SheetKind.GLUE_UP):
        for page in read_pdf(printed(kind)):
            boxes = [shapely.box(*box) for text, box in page.words if text.strip()]
            frame = shapely.box(8, 8, page.width_mm - 8, page.height_mm - 6)
            assert all(frame.contains(box) for box in boxes)
            for one, other in shapely.STRtree(boxes).query(boxes, "intersects").T:
                assert one == other or boxes[one].intersection(boxes[other]).area < 0.05


@pytest.mark.parametrize("whole_back", [True, False])
def test_the_last_step_of_the_guide_is_the_whole_back_where_there_is_one(whole_back):
    work = sample_work(24, whole_back=whole_back)
    steps = [page for page in glue_pages(work, SheetChoices()) if page.title.endswith("Glue-up guide")]
    boxed = [
        words.text
        for page in steps
        for mark, words in itertools.pairwise(page.marks)
        if isinstance(mark, Stroke) and isinstance(words, Words) and np.ptp(mark.lines[0][:, 0]) < 4
    ]
    assert boxed[-1].startswith("Whole-back") == whole_back
    assert sum(text.startswith("Whole-back") for text in boxed) == whole_back


def long_list_work():
    """A panel of 900 like pieces of one paper, glued in one go and cut from one trim."""
    numbers = range(1, 1800, 2)
    trim = replace(
        WORK.plan.trims[0],
        pieces=tuple(replace(WORK.plan.trims[0].pieces[0], number=number) for number in numbers),
    )
    pieces = tuple(replace(PIECES[3], number=number) for number in numbers)
    steps = tuple(GlueStep(order, number, (number,), (), False) for order, number in enumerate(numbers, 1))
    return replace(
        WORK,
        backing=replace(WORK.backing, pieces=pieces),
        plan=replace(WORK.plan, trims=(trim,)),
        gluing=(GlueGroup(trim.paper, 1, 1, steps),),
    )


def test_lists_longer_than_a_page_run_on_over_pages_and_lose_no_number():
    work = long_list_work()
    letter = SheetChoices(paper_size=PaperSize.LETTER)
    trims = [page for page in trim_pages(work, letter) if page.title.endswith("Trim list")]
    steps = [page for page in glue_pages(work, letter) if page.title.endswith("Glue-up guide")]
    covers = [page for page in template_pages(work, letter) if "scissors" in page.title]
    for pages_of_list in (trims, steps, covers):
        assert len(pages_of_list) > 1
        foot = type_area(PaperSize.LETTER).y + type_area(PaperSize.LETTER).height
        words = [mark for page in pages_of_list for mark in page.marks if isinstance(mark, Words)]
        in_list = [mark for mark in words if re.fullmatch(r"(and |\d+[*,]? ?)+", mark.text) and mark.y < foot]
        found = [int(number) for mark in in_list for number in re.findall(r"\d+", mark.text)]
        assert set(range(1, 1800, 2)) <= set(found)


def piece_pages(work) -> list[Picture]:
    pages_of_all = template_pages(work, SheetChoices(paper_size=PaperSize.LETTER))
    return [page for page in pages_of_all if "Pieces: " in page.title]


def one_trim_work(width: float, height: float, outlines: dict[int, Polygon]):
    """The panel with a plan of a single trim, of the first paper."""
    trim = WORK.plan.trims[0]
    pieces = tuple(replace(trim.pieces[0], number=number, outline=area) for number, area in outlines.items())
    alone = replace(trim, width_mm=width, height_mm=height, pieces=pieces)
    return replace(WORK, plan=replace(WORK.plan, trims=(alone,)))


def test_the_numbers_of_tiny_pieces_stay_within_their_trim_and_off_its_caption():
    tiny = {number: Point(x, y).buffer(0.7) for number, (x, y) in enumerate([(20, 1), (1, 15), (39, 15)], 1)}
    (page,) = piece_pages(one_trim_work(40, 30, tiny))
    (frame,) = (Polygon(mark.lines[0]) for mark in page.marks if isinstance(mark, Stroke) and mark.dash_mm)
    inside = [mark for mark in page.marks if isinstance(mark, Words) and frame.covers(Point(mark.x, mark.y))]
    assert {mark.text for mark in inside} == {"1", "2", "3"}
    for mark in inside:
        half = mark.cap_height * 0.4, mark.cap_height / 2
        assert frame.covers(
            shapely.box(mark.x - half[0], mark.y - half[1], mark.x + half[0], mark.y + half[1])
        )


def test_a_trim_larger_than_the_page_tells_its_tag_on_each_tile_and_no_name_runs_off():
    work = one_trim_work(300, 400, {7: Point(60, 60).buffer(20)})
    papers = (replace(PAPERS[0], name="A paper of the finest, " * 12), *PAPERS[1:])
    work = replace(work, project=replace(work.project, shelf=Shelf(papers)))
    tiles = piece_pages(work)
    assert len(tiles) > 1
    for page in tiles:
        assert "Pieces: trim A1" in page.title
        words = [mark for mark in page.marks if isinstance(mark, Words) and mark.anchor is Anchor.START]
        ends = [mark.x + text_width(mark.text, mark.cap_height, mark.bold) for mark in words]
        assert max(ends) < page.width_mm - 10
    assert any(mark.text == "7" for page in tiles for mark in page.marks if isinstance(mark, Words))


def test_a_page_of_many_papers_is_called_by_the_letters_of_its_first_and_last():
    trim = WORK.plan.trims[0]
    names = [f"m{number}" for number in range(30)]
    dots = (replace(trim.pieces[0], outline=Point(4, 4).buffer(3)),)
    trims = tuple(
        replace(trim, id=name, paper=name, width_mm=8.0, height_mm=8.0, pieces=dots) for name in names
    )
    shelf = Shelf(tuple(replace(PAPERS[0], id=name, name=name) for name in names))
    pieces = tuple(replace(PIECES[1], paper=name) for name in names)
    work = replace(
        WORK,
        project=replace(WORK.project, shelf=shelf),
        backing=replace(WORK.backing, pieces=pieces, whole_back=None),
        plan=replace(WORK.plan, trims=trims),
    )
    (page,) = piece_pages(work)
    assert page.title.endswith("Pieces: A to AD")


def test_cautions_on_blades_glue_and_small_parts_are_printed_where_the_work_calls_for_them():
    templates = " ".join(text for page in read_pdf(printed(SheetKind.TEMPLATES)) for text, _ in page.words)
    guide = " ".join(text for page in read_pdf(printed(SheetKind.GLUE_UP)) for text, _ in page.words)
    trims = " ".join(text for page in read_pdf(printed(SheetKind.TRIM_LIST)) for text, _ in page.words)
    for text in (templates, trims):
        assert "Blades:" in text
        assert "Small parts:" in text
    assert "Glue:" in guide
    assert "maker's own instructions come first" in templates
    assert "maker's own instructions come first" in guide


def test_a_long_foreign_name_neither_breaks_a_page_nor_runs_over_its_column():
    from dataclasses import replace

    names = ("Цветущий луг у моря " * 6, "花の海岸", "Łąka “Ĝardeno” №5 — très longue désignation de papier")
    papers = tuple(
        replace(paper, name=name) for paper, name in zip(WORK.project.shelf.papers, names, strict=True)
    )
    shelf = replace(WORK.project.shelf, papers=papers)
    work = replace(WORK, project=replace(WORK.project, shelf=shelf, name="Ħarbour 港"))
    for kind in (SheetKind.TEMPLATES, SheetKind.TRIM_LIST, SheetKind.GLUE_UP):
        pages = read_pdf(printed(kind, work))
        for page in pages:
            assert all(box[2] < page.width_mm - 8 for _, box in page.words)
    texts = " ".join(text for text, _ in pages[0].words)
    assert "A Цветущий луг у моря" in texts
    assert "B Hua" in texts
