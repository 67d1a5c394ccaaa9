"""Names on printed sheets in other letters than Latin-1 has, read back by another reader of PDF (pdfium)."""

import sys

import pypdfium2
import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from peekpaper.sheets.picture.letters import letters_for, wants_letters
from peekpaper.sheets.picture.picture import Picture, Words
from peekpaper.sheets.picture.picture_pdf import pictures_pdf
from peekpaper.sheets.picture.typeface import text_width

CAP_HEIGHT_MM = 4.0
PAGE_MM = 150.0
MM_PER_POINT = 25.4 / 72
POLISH, RUSSIAN, GREEK, HEBREW = (
    "Żółty papier (12)",
    "Голубая бумага, 30 см",
    "Λευκό χαρτί №5",
    "נייר כחול (12)",
)


def set_on_a_page(text: str, bold: bool = False) -> bytes:
    words = Words(text, 20.0, 10.0, CAP_HEIGHT_MM, bold=bold)
    return pictures_pdf(text, [Picture(text, PAGE_MM, 20.0, (words,))])


def read_back(pdf: bytes) -> tuple[str, float]:
    """Return the text of a page and how wide its letters reach, in mm."""
    page = pypdfium2.PdfDocument(pdf)[0].get_textpage()
    boxes = [page.get_charbox(at, loose=True) for at in range(page.count_chars())]
    reach = max(box[2] for box in boxes) - min(box[0] for box in boxes)
    return page.get_text_range().strip(), reach * MM_PER_POINT


@pytest.mark.parametrize("text", [POLISH, RUSSIAN, GREEK])
def test_names_come_back_letter_by_letter_and_as_wide_as_was_reckoned(text):
    for bold in (False, True):
        read, width = read_back(set_on_a_page(text, bold))
        assert read == text
        assert width == pytest.approx(text_width(text, CAP_HEIGHT_MM, bold), rel=0.01)


def test_hebrew_stands_from_right_to_left_with_its_numbers_and_brackets_the_right_way():
    letters = letters_for(HEBREW)
    assert letters is not None
    assert letters.written(HEBREW) == "(12) לוחכ ריינ"
    read, _ = read_back(set_on_a_page(HEBREW))
    assert "12" in read


def test_what_helvetica_writes_stays_in_helvetica_and_embeds_nothing():
    for text in ("Grün, “rosé” – 12…", "Étude à la mer", ""):
        assert letters_for(text) is None
    assert b"FontFile" not in set_on_a_page("Grün, “rosé”")
    assert b"FontFile" in set_on_a_page(RUSSIAN)


def test_scripts_that_the_typeface_lacks_are_romanised_beside_those_that_it_has():
    letters = letters_for("日本 Ж")
    assert letters is not None
    assert letters.written("日本 Ж") == "RiBen Ж"


def test_without_the_typeface_names_are_romanised_as_before(monkeypatch):
    monkeypatch.setitem(sys.modules, "fontpkg_arimo", None)
    assert read_back(set_on_a_page(RUSSIAN))[0] == "Golubaya bumaga, 30 sm"


def test_equal_pages_give_equal_bytes():
    assert set_on_a_page(POLISH) == set_on_a_page(POLISH)


@given(st.text(max_size=30))
def test_any_text_is_written_in_letters_that_are_there(text):
    letters = letters_for(text)
    assert (letters is not None) == wants_letters(text)
    if letters is not None:
        held = TTFont(letters.path, lazy=True).getBestCmap()
        assert {ord(one) for one in letters.written(text)} <= held.keys()
        assert letters.width(text, bold=False) >= 0
