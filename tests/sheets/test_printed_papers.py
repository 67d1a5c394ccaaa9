"""Papers printed at home: true scale, the right way up, bleed, cut marks, picture files put in as they are.

The pages are read and rastered by PDFium, which shares nothing with what wrote them.
"""

import io
from dataclasses import replace
from functools import lru_cache

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from PIL import Image
from sample_work import sample_work
from shapely import Point, box
from sheet_readers import rastered, read_pdf

from peekpaper.papers.paper import Paper, Shelf
from peekpaper.plan.make import plans
from peekpaper.plan.plan import CutSpeed, PieceToPlace, PlacedPiece, PlanChoices, Trim
from peekpaper.refusal import Refusal
from peekpaper.sheets.choices import SheetChoices, SheetKind
from peekpaper.sheets.picture.raster import read_raster
from peekpaper.sheets.sheet_file import Purpose
from peekpaper.sheets.take import file_count, take_sheets
from peekpaper.sheets.work import PrintedPattern, Work

A4, STRIP = (210.0, 297.0), (120.0, 297.0)
SHEETS = {"p1": A4, "p2": A4, "p3": STRIP}
MARGIN_MM = 5.0
SHEET_MM, PX = 304.8, 1800
PITCH_MM, FIRST_MM = 20.0, (7.0, 4.0)
"""Where marks lie on the test picture: one in each square of this pitch, and a smaller one to its right."""
BESIDE_MM = 5.0
PAPER_COLOUR = 225


@lru_cache
def marked_picture() -> bytes:
    """A pale picture of 12 x 12 in with round marks, as JPEG."""
    at = (np.arange(PX) + 0.5) * SHEET_MM / PX
    across, down = (np.mod(at - first + PITCH_MM / 2, PITCH_MM) - PITCH_MM / 2 for first in FIRST_MM)
    beside = np.mod(at - FIRST_MM[0] - BESIDE_MM + PITCH_MM / 2, PITCH_MM) - PITCH_MM / 2
    px = SHEET_MM / PX
    ink = np.zeros((PX, PX))
    for x, radius in ((across, 1.5), (beside, 0.9)):
        ink = np.maximum(ink, np.clip((radius - np.hypot(x[None, :], down[:, None])) / px + 0.5, 0, 1))
    file = io.BytesIO()
    Image.fromarray((PAPER_COLOUR * (1 - ink)).astype(np.uint8)).convert("RGB").save(file, "JPEG", quality=95)
    return file.getvalue()


@lru_cache
def printed_work() -> Work:
    """The sample panel with all its papers printed on A4, planned anew."""
    work = sample_work(openings=60)
    papers = tuple(
        replace(
            paper,
            sheet_width_mm=SHEETS[paper.id][0],
            sheet_height_mm=SHEETS[paper.id][1],
            print_margin_mm=MARGIN_MM,
        )
        for paper in work.project.shelf.papers
    )
    shelf = Shelf(papers)
    choices = PlanChoices(mat_width_mm=90.0, mat_height_mm=120.0, rounds=())
    pieces = [
        PieceToPlace(piece.number, piece.paper, piece.outline, piece.number) for piece in work.backing.pieces
    ]
    *_, plan = plans(pieces, shelf, choices, CutSpeed(), 0)
    assert plan is not None
    pattern = PrintedPattern(read_raster(marked_picture(), "Buoys"), SHEET_MM)
    return replace(
        work,
        project=replace(work.project, shelf=shelf, plan=choices),
        plan=plan,
        patterns={paper.id: pattern for paper in papers},
    )


def taken(work: Work, *kinds: SheetKind) -> dict[Purpose, bytes]:
    return {file.purpose: file.data for file in take_sheets(work, SheetChoices(kinds=kinds))}


@lru_cache
def trims_file() -> bytes:
    return taken(printed_work(), SheetKind.PRINTED_TRIMS)[Purpose.PRINTED_TRIMS]


def pages_of(work: Work) -> list[list[Trim]]:
    """The trims of each page, page by page, papers in the shelf's order."""
    return [
        [trim for trim in work.plan.trims if trim.paper == paper.id and trim.printed_at.sheet == page]
        for paper in work.project.shelf.papers
        for page in range(1, dict(work.plan.sheets)[paper.id] + 1)
    ]


def on_page(trim: Trim, points: np.ndarray) -> np.ndarray:
    """Where points of an upright trim lie on its page, in mm."""
    spot, rim = trim.printed_at, MARGIN_MM + 6.0
    x, y = points.T
    lying = np.column_stack([trim.height_mm - y, x]) if spot.turned else points
    return lying + np.array([spot.x_mm + rim, spot.y_mm + rim])


def marks_in(trim: Trim, beside: float, rim: float = 2.0) -> np.ndarray:
    """Where marks of the picture must lie in an upright trim: its pattern begins 2 mm off its corner."""
    x, y = (
        np.arange(first - 2.0, side, PITCH_MM)
        for first, side in zip(FIRST_MM, (trim.width_mm, trim.height_mm), strict=True)
    )
    all_of_them = np.stack(np.meshgrid(x + beside, y), axis=-1).reshape(-1, 2)
    inside = (all_of_them > rim) & (all_of_them < np.array([trim.width_mm, trim.height_mm]) - rim)
    return all_of_them[inside.all(axis=1)]


def centre_of_ink(picture: np.ndarray, at: np.ndarray, reach_mm: float = 1.9, dpi: int = 600) -> np.ndarray:
    """The centre, in mm, of what is dark around a place."""
    px = dpi / 25.4
    left, top = ((at - reach_mm) * px).astype(int)
    right, bottom = ((at + reach_mm) * px).astype(int) + 1
    dark = np.clip(picture[top:bottom, left:right] - 0.4, 0, None)
    rows, columns = np.indices(dark.shape)
    return (
        np.array([(columns + 0.5 + left), (rows + 0.5 + top)]).reshape(2, -1) @ dark.ravel() / dark.sum() / px
    )


def test_marks_of_a_picture_lie_within_a_tenth_of_a_millimetre() -> None:
    work = printed_work()
    compared = 0
    for page, trims in enumerate(pages_of(work)):
        picture = rastered(trims_file(), page)
        for trim in trims:
            for beside in (0.0, BESIDE_MM):
                for at in on_page(trim, marks_in(trim, beside)):
                    assert np.abs(centre_of_ink(picture, at) - at).max() < 0.1, (trim.id, at)
                    compared += 1
    assert compared > 50
    assert {trim.printed_at.turned for trim in work.plan.trims} == {False, True}, "trims lie both ways"


def test_a_pattern_with_a_direction_may_lie_on_its_side_on_the_page_but_never_in_its_trim() -> None:
    trims = [trim for trim in printed_work().plan.trims if trim.paper == "p2"]
    assert any(trim.printed_at.turned for trim in trims)
    assert {piece.turn_deg for trim in trims for piece in trim.pieces} == {0.0}
    assert not any(trim.turned for trim in trims)


def test_patterns_reach_two_millimetres_past_every_trim_and_cut_marks_stand_clear_of_them() -> None:
    for page, trims in enumerate(pages_of(printed_work())):
        picture = rastered(trims_file(), page)
        lines = [line for line in read_pdf(trims_file())[page].paths if len(line) == 2]
        for trim in trims:
            width, height = trim.width_mm, trim.height_mm
            for x, y in ((-1.9, -1.9), (width + 1.9, height + 1.9), (width / 2, -1.9), (-1.9, height / 2)):
                column, row = (on_page(trim, np.array([[x, y]]))[0] * 600 / 25.4).astype(int)
                assert picture[row, column] > 0.08, f"no white at {x}, {y} of {trim.id}"
            frame = box(*on_page(trim, np.array([[0, 0], [width, height]])).ravel()).normalize()
            left, top, right, bottom = frame.bounds
            for side in (left, right):
                assert any(
                    np.abs(line[:, 0] - side).max() < 0.02 and line[:, 1].max() < top - 2.4 for line in lines
                )
            for side in (top, bottom):
                assert any(
                    np.abs(line[:, 1] - side).max() < 0.02 and line[:, 0].max() < left - 2.4 for line in lines
                )


def test_trims_keep_apart_and_inside_what_the_printer_fills() -> None:
    for trims in pages_of(printed_work()):
        width, height = SHEETS[trims[0].paper]
        frames = [
            box(*np.sort(on_page(trim, np.array([[0, 0], [trim.width_mm, trim.height_mm]])), axis=0).ravel())
            for trim in trims
        ]
        for index, frame in enumerate(frames):
            left, top, right, bottom = frame.bounds
            assert left >= MARGIN_MM + 6 - 1e-6
            assert top >= MARGIN_MM + 6 - 1e-6
            assert right <= width - MARGIN_MM - 6 + 1e-6
            assert bottom <= height - MARGIN_MM - 20 + 1e-6
            for other in frames[:index]:
                assert frame.distance(other) >= 7.99 or (frame.distance(other) == 0 and False)


def test_each_page_tells_its_trims_and_has_a_bar_to_measure() -> None:
    work = printed_work()
    for page, trims in zip(read_pdf(trims_file()), pages_of(work), strict=True):
        assert (page.width_mm, page.height_mm) == pytest.approx(SHEETS[trims[0].paper], abs=0.01)
        words = [text for text, _ in page.words]
        letters = {"p1": "A", "p2": "B", "p3": "C"}
        assert sum(word in {f"{letters[trims[0].paper]}{n}" for n in range(1, 40)} for word in words) == len(
            trims
        )
        bar = 50 if SHEETS[trims[0].paper] == STRIP else 100
        assert any(f"{bar} mm" in word for word in words)
        bars = [line for line in page.paths if len(line) == 2 and abs(np.ptp(line[:, 0]) - bar) < 0.02]
        assert len(bars) == 1


def test_pieces_for_scissors_show_their_own_bit_of_pattern_with_bleed_and_number() -> None:
    work = printed_work()
    data = taken(work, SheetKind.PRINTED_PIECES)[Purpose.PRINTED_PIECES]
    pages = read_pdf(data)
    numbers = sorted(int(text) for page in pages for text, _ in page.words if text.isdigit())
    assert numbers == sorted(piece.number for trim in work.plan.trims for piece in trim.pieces)
    marked = 0
    for index, page in enumerate(pages):
        picture = rastered(data, index)
        for text, (left, top, *_) in page.words:
            trim, piece = placed_of(work, text)
            if piece is None:
                continue
            outline = next(
                line
                for line in page.paths
                if abs(line[:, 0].min() - left - 2) < 0.3 and 0 < line[:, 1].min() - top < 8
            )
            move = outline.min(axis=0) - np.array(piece.outline.bounds[:2])
            for at in marks_in(trim, 0.0):
                if piece.outline.buffer(-2).contains(Point(at)):
                    assert np.abs(centre_of_ink(picture, at + move) - at - move).max() < 0.1, text
                    marked += 1
            leftmost = (outline[outline[:, 0].argmin()] - (1.8, 0.0)) * 600 / 25.4
            column, row = leftmost.astype(int)
            assert picture[row, column] > 0.08, f"piece {text} has bleed"
    assert marked >= 5


def placed_of(work: Work, text: str) -> tuple[Trim, PlacedPiece] | tuple[None, None]:
    return next(
        ((trim, one) for trim in work.plan.trims for one in trim.pieces if str(one.number) == text),
        (None, None),
    )


def test_a_jpeg_goes_in_byte_for_byte_and_once_however_many_trims_show_it() -> None:
    document = pypdfium2.PdfDocument(trims_file())
    images = [
        thing for page in document for thing in page.get_objects() if thing.type == pdfium.FPDF_PAGEOBJ_IMAGE
    ]
    assert len(images) >= len(printed_work().plan.trims)
    assert bytes(images[0].get_data(decode_simple=False)) == marked_picture()
    assert len(trims_file()) < len(marked_picture()) + 100_000


@pytest.mark.parametrize("mode", ["RGB", "L", "P", "1"])
def test_a_plain_png_is_printed_px_by_px(mode: str) -> None:
    chance = np.random.default_rng(1)
    picture = Image.fromarray(chance.integers(0, 256, (40, 30, 3), dtype=np.uint8)).convert(mode)
    file = io.BytesIO()
    picture.save(file, "PNG")
    raster = read_raster(file.getvalue(), "Buoys")
    assert (raster.width_px, raster.height_px) == (30, 40)
    work = replace(printed_work(), patterns={"p1": PrintedPattern(raster, 300.0)})
    document = pypdfium2.PdfDocument(taken(work, SheetKind.PRINTED_TRIMS)[Purpose.PRINTED_TRIMS])
    image = next(
        thing for page in document for thing in page.get_objects() if thing.type == pdfium.FPDF_PAGEOBJ_IMAGE
    )
    seen = image.get_bitmap(render=False).to_pil().convert("RGB")
    assert np.array_equal(np.asarray(seen), np.asarray(picture.convert("RGB")))


@pytest.mark.parametrize(
    "spoilt",
    [b"", b"GIF89a", marked_picture()[:20], b"\xff\xd8\xff\xda\x00\x02", b"\x89PNG\r\n\x1a\n" + bytes(30)],
)
def test_what_is_no_printable_picture_is_refused_in_words(spoilt: bytes) -> None:
    with pytest.raises(Refusal, match="Buoys"):
        read_raster(spoilt, "Buoys")


def test_without_a_printed_paper_there_is_nothing_to_print() -> None:
    kinds = (SheetKind.PRINTED_TRIMS, SheetKind.PRINTED_PIECES)
    assert taken(sample_work(), *kinds) == {}
    assert file_count(sample_work(), SheetChoices(kinds=kinds)) == 0
    assert file_count(printed_work(), SheetChoices(kinds=kinds)) == len(taken(printed_work(), *kinds)) == 3


def test_the_test_strip_shows_every_printed_paper_and_says_that_colours_differ() -> None:
    pages = read_pdf(taken(printed_work(), SheetKind.PRINTED_TRIMS)[Purpose.TEST_STRIP])
    words = " ".join(text for page in pages for text, _ in page.words)
    assert "Printed colours differ from those on the screen" in words
    for name in ("Sea glass", "Gorse & thrift"):
        assert name in words


def test_a_page_without_room_is_no_paper() -> None:
    from peekpaper.project.shelf_sound import refuse_unsound_paper

    with pytest.raises(Refusal, match="no room to print"):
        refuse_unsound_paper(
            Paper("p", "Stamp", "#ffffff", sheet_width_mm=30, sheet_height_mm=30, print_margin_mm=5)
        )
