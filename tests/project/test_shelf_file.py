"""A shelf as a file: it comes back as it was, and what can't be opened is said in a sentence."""

import json

import pytest
from hypothesis import given
from made_projects import shelves

from peekpaper.papers.paper import Shelf
from peekpaper.project.shelf_file import shelf_from_json, shelf_to_json
from peekpaper.project.start_shelf import start_shelf
from peekpaper.refusal import Refusal


def edited(**parts: object) -> str:
    return json.dumps({**json.loads(shelf_to_json(start_shelf())), **parts})


@given(shelves())
def test_a_saved_shelf_opens_as_it_was(shelf: Shelf) -> None:
    assert shelf_from_json(shelf_to_json(shelf)) == shelf


def test_a_shelf_file_of_a_newer_version_is_refused_with_the_way_on() -> None:
    with pytest.raises(Refusal, match="newer Peekpaper: reload the page"):
        shelf_from_json(edited(version=2))


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "This is no shelf file"),
        ('{"format": "peekpaper project", "version": 1}', "This is no shelf file"),
        (shelf_to_json(start_shelf())[:200], "cut off"),
        (edited(shelf={}), "no papers in this shelf file"),
        (edited(shelf=None), "“shelf” should be an object"),
        (edited(shelf={"papers": [{"id": "a", "name": "Oat"}]}), r"“shelf.papers\[0\].colour” is missing"),
    ],
)
def test_what_is_no_shelf_is_refused(text: str, sentence: str) -> None:
    with pytest.raises(Refusal, match=sentence):
        shelf_from_json(text)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"sheet_width_mm": 0}, "sheet of “Oat” has no size"),
        ({"sheet_height_mm": -3}, "sheet of “Oat” has no size"),
        ({"picture_width_mm": 0}, "picture of “Oat” has no size"),
        ({"sheets": -1}, "fewer than no sheets"),
        ({"price": -0.5}, "price of “Oat”"),
        ({"colour": "red"}, "colour of “Oat” is no colour"),
    ],
)
def test_a_paper_that_can_not_be_is_named(change: dict[str, object], sentence: str) -> None:
    paper = {"id": "a", "name": "Oat", "colour": "#e9dfc9", **change}
    with pytest.raises(Refusal, match=sentence):
        shelf_from_json(edited(shelf={"papers": [paper]}))


@pytest.mark.parametrize(
    ("scraps", "sentence"),
    [
        ([{"id": "s1", "paper": "p1", "width_mm": 0, "height_mm": 5}], "A scrap has no size"),
        ([{"id": "s1", "paper": "p99", "width_mm": 5, "height_mm": 5}], "paper that is not on the shelf"),
        ([{"id": "s1", "paper": "p1", "width_mm": 5, "height_mm": 5}] * 2, "Two scraps share"),
    ],
)
def test_a_scrap_that_can_not_be_is_refused(scraps: list[object], sentence: str) -> None:
    papers = json.loads(shelf_to_json(start_shelf()))["shelf"]["papers"]
    with pytest.raises(Refusal, match=sentence):
        shelf_from_json(edited(shelf={"papers": papers, "scraps": scraps}))
