"""What has no room for glue is said, and drawn, on the guide that it is glued by."""

from dataclasses import replace

import numpy as np
from sample_work import sample_work

from peekpaper.sheets.choices import SheetChoices
from peekpaper.sheets.narrow_lips import narrow_lip_edges
from peekpaper.sheets.pages.glue_pages import glue_pages
from peekpaper.sheets.picture.colours import ALERT
from peekpaper.sheets.picture.picture import Stroke, Words


def with_lips(lips):
    """The sample with pieces of these lips; all of its pieces have 2 mm else."""
    work = sample_work(12, whole_back=False)
    areas = {opening.number: opening.area for opening in work.design.openings}
    pieces = tuple(
        replace(piece, outline=areas[piece.number].buffer(lips[piece.number]), lip_min_mm=lips[piece.number])
        if piece.number in lips
        else piece
        for piece in work.backing.pieces
    )
    return replace(work, backing=replace(work.backing, pieces=pieces, under_least_lip=tuple(lips)))


def red(pages):
    marks = [mark for page in pages for mark in page.marks]
    return [mark for mark in marks if isinstance(mark, Stroke | Words) and mark.colour == ALERT]


def words_of(work):
    marks = [mark for page in glue_pages(work, SheetChoices()) for mark in page.marks]
    return " ".join(mark.text for mark in marks if isinstance(mark, Words))


def test_the_guide_names_the_pieces_that_cannot_be_glued_before_anything_else():
    words = words_of(with_lips({2: 0.0, 3: 0.0, 7: 0.5}))
    assert "No room for glue at some edges of pieces 2 and 3" in words
    assert "at some edges of piece 7: it may not hold" in words
    assert words.index("No room for glue") < words.index("Lay the card face down")


def test_a_guide_of_pieces_that_all_hold_says_nothing_of_it():
    work = sample_work(12)
    assert "for glue at some edges" not in words_of(work)
    assert not list(narrow_lip_edges(work))
    assert not red(glue_pages(work, SheetChoices()))


def test_edges_without_room_are_red_in_the_picture_from_the_back_and_whole():
    work = with_lips({2: 0.0})
    (opening,) = (opening.area for opening in work.design.openings if opening.number == 2)
    assert np.isclose(sum(edge.length for edge in narrow_lip_edges(work)), opening.exterior.length)
    (back,) = (page for page in glue_pages(work, SheetChoices()) if "From the back" in page.title)
    assert any(isinstance(mark, Stroke) for mark in red([back]))
