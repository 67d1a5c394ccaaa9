import csv
import io
import zipfile
from dataclasses import replace
from xml.etree import ElementTree

import pytest
from sample_work import PAPERS, sample_sheets, sample_work
from shapely import MultiPolygon

from peekpaper.papers.paper import Shelf
from peekpaper.plan.plan import SheetPlacement
from peekpaper.sheets.choices import DxfRelease, SheetChoices, SheetKind
from peekpaper.sheets.lists.shopping import shopping_csv, shopping_rows
from peekpaper.sheets.lists.trim_list import trim_rows, trims_csv
from peekpaper.sheets.paper_names import paper_letters, trim_tags
from peekpaper.sheets.paper_sizes import PaperSize
from peekpaper.sheets.plain_text import file_stem, to_ascii, to_latin_1
from peekpaper.sheets.sheet_file import Purpose
from peekpaper.sheets.take import file_count, take_sheets

WORK = sample_work(40)
FEW = 12
INCHES, MILLIMETRES = SheetChoices(unit="in"), SheetChoices(unit="mm")


def rows_of(data: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline="")))


def named(name: str):
    papers = (replace(PAPERS[0], name=name), *PAPERS[1:])
    return replace(WORK, project=replace(WORK.project, shelf=Shelf(papers)))


def test_the_trim_list_has_each_trim_once_and_each_piece_once():
    rows = [row for row in rows_of(trims_csv(WORK, INCHES)) if row["Trim"] != "Whole-back"]
    assert len(rows) == len(WORK.plan.trims)
    pieces = [int(number) for row in rows for number in row["Pieces"].split()]
    assert sorted(pieces) == [piece.number for piece in WORK.backing.pieces]


def test_sizes_and_places_are_in_inch_fractions_or_millimetres():
    (first, *_) = trim_rows(WORK, INCHES)
    assert (first.cut_size, first.from_left, first.from_top) == ("4 1/2 x 2 1/2 in", "0 in", "0 in")
    (first, *_) = trim_rows(WORK, MILLIMETRES)
    assert (first.cut_size, first.from_left) == ("114.3 x 63.5 mm", "0 mm")


def test_a_trim_tells_the_sheet_or_the_scrap_it_is_cut_from():
    sources = {row.tag: (row.source, row.sheet_left, row.sheet_top) for row in trim_rows(WORK, MILLIMETRES)}
    assert sources["A1"] == ("scrap 120 x 80 mm", "", "")
    assert sources["B1"] == ("sheet 1", "12.7 mm", "25.4 mm")
    many = {row.tag: row.source for row in trim_rows(sample_work(200), MILLIMETRES)}
    assert many["B4"] == "sheet 2"
    assert {row["Trim"]: row["From"] for row in rows_of(trims_csv(WORK, MILLIMETRES))}["B1"] == "sheet 1"


def test_a_trim_that_is_cut_lying_has_the_size_that_it_has_on_the_sheet():
    trim = next(trim for trim in WORK.plan.trims if trim.cut_from)
    lying = replace(trim, width_mm=100.0, height_mm=50.0, cut_from=SheetPlacement(1, 0.0, 0.0, True))
    (row, _) = trim_rows(replace(WORK, plan=replace(WORK.plan, trims=(lying,))), MILLIMETRES)
    assert row.cut_size == "50 x 100 mm"


def test_a_trim_of_any_size_is_cut_a_little_larger_to_what_a_ruler_has():
    trim = next(trim for trim in WORK.plan.trims if trim.cut_from)
    free = replace(trim, width_mm=60.23, height_mm=46.8, cut_from=SheetPlacement(1, 0.0, 0.0, False))
    work = replace(WORK, plan=replace(WORK.plan, trims=(free,)))
    # 60.23 mm are 75.88 and 46.8 mm 58.96 thirty-seconds of an inch.
    assert trim_rows(work, INCHES)[0].cut_size == "2 3/8 x 1 27/32 in"
    assert trim_rows(work, MILLIMETRES)[0].cut_size == "60.3 x 46.8 mm"


def test_for_mirrored_files_trims_are_placed_left_to_right():
    plain, over = (
        {row.tag: row for row in trim_rows(WORK, SheetChoices(unit="mm", mirrored=mirrored))}
        for mirrored in (False, True)
    )
    trim = next(trim for trim in WORK.plan.trims if not trim.turned)
    tag = trim_tags(WORK)[trim.id]
    right_mm = 304.8 - trim.x_mm - trim.width_mm
    assert over[tag].from_left == f"{round(right_mm, 1):g} mm"
    assert over[tag].from_top == plain[tag].from_top
    assert over[tag].cut_size == plain[tag].cut_size


def test_trims_are_called_by_their_papers_letter_and_a_count():
    letters = paper_letters(WORK)
    assert list(letters.values()) == ["A", "B", "C"]
    for trim in WORK.plan.trims:
        assert trim_tags(WORK)[trim.id].startswith(letters[trim.paper])


def test_what_to_buy_is_what_is_needed_less_what_is_at_hand():
    rows = {row.letter: row for row in shopping_rows(WORK, "in")}
    assert (rows["A"].needed, rows["A"].at_hand, rows["A"].to_buy) == (2, 1, 1)
    assert rows["A"].cost == pytest.approx(0.90)
    assert (rows["C"].needed, rows["C"].to_buy, rows["C"].cost) == (2, 2, 2.5)


def test_the_whole_back_needs_a_sheet_of_its_own_paper():
    with_back = {row.letter: row.needed for row in shopping_rows(WORK, "in")}
    without = {row.letter: row.needed for row in shopping_rows(sample_work(40, whole_back=False), "in")}
    assert with_back["B"] == without["B"] + 1


def without_area(work):
    """The work with a whole-back of whose area the edge margin leaves nothing."""
    return replace(work, backing=replace(work.backing, whole_back=MultiPolygon()))


def test_the_whole_back_is_in_the_trim_list_with_the_size_to_cut():
    *_, last = trim_rows(WORK, MILLIMETRES)
    left, top, right, bottom = WORK.backing.whole_back.bounds
    assert (last.tag, last.paper) == ("Whole-back", "Gorse & thrift")
    assert last.cut_size == f"{right - left:g} x {bottom - top:g} mm"
    *_, last = rows_of(trims_csv(WORK, MILLIMETRES))
    assert (last["Trim"], last["Mat"], last["Pieces"]) == ("Whole-back", "", "")


@pytest.mark.parametrize(
    ("width", "height", "source"),
    [
        (304.8, 304.8, "a sheet of its own"),
        (160.0, 180.0, "a sheet of its own"),
        (140.0, 500.0, "too large for its sheet: get a larger one"),
        (174.0, 100.0, "too large for its sheet: get a larger one"),
    ],
)
def test_the_trim_list_tells_where_the_whole_back_fits_its_papers_sheet_neither_way(width, height, source):
    left, top, right, bottom = WORK.backing.whole_back.bounds
    assert (right - left, bottom - top) == pytest.approx((172, 148))
    sheet = replace(PAPERS[1], sheet_width_mm=width, sheet_height_mm=height)
    shelf = Shelf((PAPERS[0], sheet, PAPERS[2]))
    work = replace(WORK, project=replace(WORK.project, shelf=shelf))
    assert trim_rows(work, MILLIMETRES)[-1].source == source


def test_a_whole_back_of_which_nothing_is_left_is_neither_bought_nor_cut_nor_listed():
    nothing, none = without_area(sample_work(FEW)), sample_work(FEW, whole_back=False)
    assert shopping_rows(nothing, "in") == shopping_rows(none, "in")
    assert trim_rows(nothing, INCHES) == trim_rows(none, INCHES)
    names = [file.name for file in take_sheets(nothing, INCHES)]
    assert names == [file.name for file in sample_sheets(FEW, INCHES, whole_back=False)]
    assert len(names) == file_count(nothing, INCHES)


def test_a_name_that_looks_like_a_formula_stays_a_name_in_a_spreadsheet():
    for data in (trims_csv(named("=1+1"), INCHES), shopping_csv(named("=1+1"), "in")):
        assert not any(cell.startswith("=") for row in rows_of(data) for cell in row.values())


def test_names_with_commas_quotes_and_foreign_letters_come_back_whole():
    name = 'Sea "glass", Морская, 海'
    assert any(row["Paper"] == name for row in rows_of(trims_csv(named(name), INCHES)))


def test_whatever_characters_names_have_all_files_are_made_and_every_svg_is_well_formed():
    names = ("a\x0bb", "a\ufffe", "<&>\x1f a\ud800b")
    papers = tuple(replace(paper, name=name) for paper, name in zip(PAPERS, names, strict=True))
    work = sample_work(FEW)
    work = replace(work, project=replace(work.project, name="\x01", shelf=Shelf(papers)))
    files = [file.data for file in take_sheets(work, SheetChoices()) if file.media_type == "image/svg+xml"]
    assert files
    for data in files:
        assert ElementTree.fromstring(data).tag.endswith("svg")


@pytest.mark.parametrize(
    ("text", "stem"),
    [
        ("Harbour Panel", "harbour-panel"),
        ("../..\\etc: *?", "etc"),
        ("Лодка №2", "lodka-no2"),
        ("Été à la mer", "ete-a-la-mer"),
        ("", ""),
    ],
)
def test_file_names_are_plain_everywhere(text, stem):
    assert file_stem(text) == stem


def test_latin_letters_stay_and_others_are_romanised():
    assert to_latin_1("Étude “à” l’œuvre") == 'Étude "à" l\'oeuvre'
    assert to_latin_1("Łódź") == "Lódz"
    assert to_ascii("Морская пена") == "Morskaya pena"


def test_all_files_have_different_names_that_are_safe_on_every_system():
    files = sample_sheets(FEW, SheetChoices(per_paper=True))
    names = [file.name for file in files]
    assert len(set(names)) == len(names)
    for name in names:
        assert set(name) <= set("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-. ")
        assert len(name) < 120
    assert {file.media_type for file in files} == {
        "image/svg+xml", "image/vnd.dxf", "image/png", "application/pdf", "text/csv", "application/zip",
    }  # fmt: skip


def test_every_file_says_what_it_is_for():
    purposes = {file.name: file.purpose for file in sample_sheets(FEW, SheetChoices(per_paper=True))}
    printed = {Purpose.TEST_STRIP, Purpose.PRINTED_TRIMS, Purpose.PRINTED_PIECES}
    assert set(purposes.values()) == set(Purpose) - printed, "none of these papers is printed"
    assert purposes["harbour-panel mat 1.svg"] is Purpose.CUT_MAT
    assert purposes["harbour-panel card inches R12.dxf"] is Purpose.CUT_CARD
    assert purposes["harbour-panel glue-up back.png"] is Purpose.GLUE_UP


def test_the_zip_holds_every_other_file_as_it_is():
    *files, archive = sample_sheets(FEW, SheetChoices())
    assert archive.name == "harbour-panel sheets.zip"
    with zipfile.ZipFile(io.BytesIO(archive.data)) as packed:
        assert packed.testzip() is None
        found = {name.split("/", 1)[1]: packed.read(name) for name in packed.namelist()}
    assert found == {file.name: file.data for file in files}


def test_only_the_wanted_kinds_are_made_and_one_at_a_time():
    files = take_sheets(WORK, SheetChoices(kinds=(SheetKind.TRIM_LIST,)))
    assert next(files).name == "harbour-panel trim list.csv"
    assert [file.name for file in files] == ["harbour-panel to buy.csv", "harbour-panel trim list.pdf"]


@pytest.mark.parametrize(
    ("paper", "width", "height"),
    [
        # ISO 216:2007, table 1.
        (PaperSize.A4, 210, 297),
        (PaperSize.A3, 297, 420),
        # ANSI/ASME Y14.1, sizes A and B, with the inch of 25.4 mm.
        (PaperSize.LETTER, 215.9, 279.4),
        (PaperSize.TABLOID, 279.4, 431.8),
    ],
)
def test_sheet_sizes_are_the_published_ones(paper, width, height):
    assert (paper.width_mm, paper.height_mm) == pytest.approx((width, height))


@pytest.mark.parametrize(
    "choices",
    [
        SheetChoices(),
        SheetChoices(per_paper=True, dxf_releases=(DxfRelease.R12,)),
        SheetChoices(kinds=(SheetKind.CUT,)),
        SheetChoices(kinds=(SheetKind.TRIM_LIST, SheetKind.GLUE_UP, SheetKind.ARCHIVE)),
        SheetChoices(kinds=()),
    ],
)
def test_how_many_files_there_will_be_is_known_before_the_first(choices):
    for whole_back in (True, False):
        taken = sample_sheets(FEW, choices, whole_back=whole_back)
        assert file_count(sample_work(FEW, whole_back=whole_back), choices) == len(taken)
