"""The finished piece on its page, with measures."""

import io
import math
from dataclasses import replace
from xml.etree import ElementTree

import numpy as np
import pypdfium2
import pytest
from PIL import Image
from sample_work import sample_work

from peekpaper.papers.paper import Colourway
from peekpaper.project.project import Block, PageLayout
from peekpaper.sheets.picture.page_view import page_measures, page_view
from peekpaper.sheets.picture.picture import Area, Picture, Words
from peekpaper.sheets.picture.picture_pdf import pictures_pdf
from peekpaper.sheets.picture.picture_png import picture_png
from peekpaper.sheets.picture.picture_svg import picture_svg
from peekpaper.sheets.picture.typeface import text_width
from peekpaper.words.words import read_words

ENGLISH = read_words("en")


def test_distances_go_to_the_box_around_a_turned_photo_with_its_mat() -> None:
    photo = Block("photo", 150, 120, 100, 60, turn_deg=30, mat_mm=5)
    measures = page_measures(PageLayout(304.8, 304.8, None, (photo,)), "mm", ENGLISH)
    turn = math.radians(30)
    left = 150 - (110 * math.cos(turn) + 70 * math.sin(turn)) / 2
    top = 120 - (110 * math.sin(turn) + 70 * math.cos(turn)) / 2
    assert [measure.text for measure in measures] == [f"{left:.1f} mm", f"{top:.1f} mm", "110 x 70 mm"]
    assert measures[0].line == pytest.approx((0, 120, left, 120))
    assert measures[1].line == pytest.approx((150, 0, 150, top))


def test_a_block_at_the_very_edge_is_given_no_distance_from_it() -> None:
    title = Block("title", 50, 10, 100, 20)
    (size,) = page_measures(PageLayout(200, 200, None, (title,)), "in", ENGLISH)
    assert size.line is None


def test_the_piece_lies_on_its_page_at_true_size() -> None:
    work = sample_work(6)
    piece = Block("piece", 100, 90, work.design.width_mm, work.design.height_mm)
    project = replace(work.project, page=PageLayout(200, 180, None, (piece,)))
    picture = page_view(project, work.design, Colourway("c1", "Any", {1: "p1"}), ENGLISH)
    _, card, first, second, *_ = (mark for mark in picture.marks if isinstance(mark, Area))
    (ring,) = card.rings
    assert ring.min(axis=0) == pytest.approx((100 - work.design.width_mm / 2, 90 - work.design.height_mm / 2))
    assert ring.max(axis=0) == pytest.approx((100 + work.design.width_mm / 2, 90 + work.design.height_mm / 2))
    assert first.fill == "#9fd3c7"
    assert second.fill == picture.marks[0].fill  # type: ignore[union-attr]


def test_the_picture_is_an_svg_of_the_page_size_with_its_words() -> None:
    work = sample_work(6)
    title = Block("title", 100, 40, 20, 25, text="Harbour <day>")
    writing = Block("writing", 100, 120, 90, 60, turn_deg=-10)
    project = replace(work.project, page=PageLayout(200, 180, None, (title, writing)), units="mm")
    root = ElementTree.fromstring(
        picture_svg(page_view(project, work.design, Colourway("c1", "Any"), ENGLISH))
    )
    assert (root.get("width"), root.get("height")) == ("200.000mm", "180.000mm")
    words = [element.text for element in root.iter("{http://www.w3.org/2000/svg}text")]
    assert "Harbour <day>" in words
    assert "90 x 60 mm" in words


def test_a_turned_block_s_words_are_turned_with_it_wherever_the_picture_goes() -> None:
    work = sample_work(6)
    title = Block("title", 100, 90, 120, 25, turn_deg=90, text="Harbour")
    project = replace(work.project, page=PageLayout(200, 180, None, (title,)))
    picture = page_view(project, work.design, Colourway("c1", "Any"), ENGLISH)
    root = ElementTree.fromstring(picture_svg(picture))
    (words,) = (
        element for element in root.iter("{http://www.w3.org/2000/svg}text") if element.text == "Harbour"
    )
    assert words.get("transform") == "rotate(90 100.000 90.000)"
    only = Picture("", 200, 180, tuple(mark for mark in picture.marks if isinstance(mark, Words))[:1])
    pdf = pypdfium2.PdfDocument(pictures_pdf("", [only]))[0].render(scale=1).to_numpy()
    png = np.asarray(Image.open(io.BytesIO(picture_png(only))).convert("RGB"))
    for pixels in (pdf, png):
        down, across = np.nonzero(pixels.min(axis=2) < 128)
        assert np.ptp(down) > 4 * np.ptp(across)
        assert across.mean() / pixels.shape[1] == pytest.approx(0.5, abs=0.03)
        assert down.mean() / pixels.shape[0] == pytest.approx(0.5, abs=0.03)


def test_writing_is_broken_into_lines_that_stay_within_its_block() -> None:
    work = sample_work(6)
    text = "The lamp is lit at dusk and turns until the boats are home again"
    writing = Block("writing", 100, 90, 60, 30, text=text)
    project = replace(work.project, page=PageLayout(200, 180, None, (writing,)))
    lines = [
        mark
        for mark in page_view(project, work.design, Colourway("c1", "Any"), ENGLISH).marks
        if isinstance(mark, Words) and mark.text in text
    ]
    assert " ".join(line.text for line in lines) == text
    for line in lines:
        assert text_width(line.text, line.cap_height) <= 60
        assert abs(line.y - 90) + line.cap_height / 2 <= 15
