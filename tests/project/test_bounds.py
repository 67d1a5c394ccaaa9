"""No document may hold more than any project needs; what is out of bounds is named in a person's words."""

import json
import re
from collections.abc import Iterator
from typing import Any

import pytest
from english import english_of
from test_project_file import a_project, edited

from peekpaper.desk.desk import Desk
from peekpaper.project.document import from_json, new_project, to_document
from peekpaper.project.part_names import PART_NAMES, part_name
from peekpaper.project.schema import project_schema
from peekpaper.project.shelf_file import shelf_from_json
from peekpaper.refusal import Refusal
from peekpaper.words.words import read_words

BLOCK = {"kind": "writing", "x_mm": 0, "y_mm": 0, "width_mm": 9, "height_mm": 9}
PAPER = {"id": "p1", "name": "Oat", "colour": "#ffffff"}
BOUNDS = {"minimum", "maximum", "maxLength", "maxItems", "maxProperties"}


@pytest.mark.parametrize(
    ("parts", "sentence"),
    [
        ({"page": {"width_mm": 1e300}}, "the size of the page is less than -100,000 or more than 100,000"),
        ({"ticked": [10**400]}, "the number of a glued piece is less than 0 or more than 1,000,000"),
        ({"ticked": [-1]}, "the number of a glued piece is less than 0"),
        ({"ticked": [1] * 50_001}, r"there are too many glued pieces \(50,000 at most\)"),
        ({"name": "x" * 301}, "the project's name is longer than 300 characters"),
        ({"page": {"blocks": [{**BLOCK, "text": "x" * 390_000}]}}, "a text on the page is longer than 5000"),
        (
            {"page": {"blocks": [{**BLOCK, "picture": "x" * 390_000}]}},
            "a photo on the page is longer than 100",
        ),
        ({"page": {"blocks": [{**BLOCK, "y_mm": 1e300}]}}, "place of something on the page is less than"),
        ({"page": {"blocks": [BLOCK] * 501}}, r"too many things on the page \(500 at most\)"),
        ({"shelf": {"papers": [{**PAPER, "sheet_width_mm": 1e9}]}}, "a measure of a paper is less than"),
        ({"shelf": {"papers": [{**PAPER, "pattern": "x" * 101}]}}, "a paper's pattern is longer than 100"),
        ({"plan": {"spacing_mm": 1e9}}, "a measure of the plan is less than"),
        ({"plan": {"seed": 2**60}}, "the seed of the plan is less than"),
        (
            {"colourways": [{"id": "c1", "name": "", "papers": {"1": "x" * 101}}]},
            "the name tag of a paper is longer",
        ),
        (
            {"mends": [{"id": "m1", "change": {"kind": "fill", "at": [0, 1e9]}}]},
            "a measure of a mend is less than",
        ),
        (
            {"mends": [{"id": "m1", "change": {"kind": "bar", "line": [[0, 0]], "width": 1}}]},
            "too few points in a line",
        ),
    ],
)
def test_what_is_out_of_bounds_is_named_in_a_persons_words(parts: dict[str, object], sentence: str) -> None:
    with pytest.raises(Refusal, match=f"^This project file can't be opened because .*{sentence}"):
        from_json(edited(**parts))


def test_a_file_of_very_many_parts_is_refused_before_it_takes_the_memory() -> None:
    with pytest.raises(Refusal, match="far more parts than any project"):
        from_json(edited(ticked=[]).replace('"ticked": []', '"ticked": [' + "[]," * 1_000_000 + "[]]"))


def test_a_shelf_is_held_to_the_same_bounds() -> None:
    shelf = {"papers": [{**PAPER, "name": "x" * 301}]}
    with pytest.raises(Refusal, match="This shelf file can't be opened because a paper's name is longer"):
        shelf_from_json(json.dumps({"format": "peekpaper shelf", "version": 1, "shelf": shelf}))


def test_what_a_person_does_never_leaves_the_bounds() -> None:
    project = to_document(a_project())
    for edit, to in (
        ("put_paper", {"paper": {**PAPER, "name": "x" * 301}}),
        ("rename_colourway", {"colourway": "c1", "name": "x" * 301}),
    ):
        asked = json.dumps({"project": project, "edit": edit, "to": to})
        (step,) = Desk().steps("edit", asked)
        assert step.kind == "refusal"
        assert "name is longer than 300 characters: give less." in english_of(
            json.loads(step.json)["message"]
        )


def test_the_longest_file_name_makes_a_project_that_opens() -> None:
    project = new_project("long " * 200 + ".svg", a_project().source.svg)
    assert len(project.name) <= 300


def bounded_places(
    schema: dict[str, Any], definitions: dict[str, Any], place: str
) -> Iterator[tuple[str, set[str]]]:
    """Yield every place of a document that the schema bounds, and by what."""
    if "$ref" in schema:
        schema = definitions[schema["$ref"].rpartition("/")[2]]
    if BOUNDS & schema.keys():
        yield place, BOUNDS & schema.keys()
    for each in schema.get("anyOf", ()):
        yield from bounded_places(each, definitions, place)
    for name, each in schema.get("properties", {}).items():
        yield from bounded_places(each, definitions, f"{place}.{name}".removeprefix("."))
    for each in (
        *schema.get("prefixItems", ()),
        *filter(bool, (schema.get("items"), schema.get("additionalProperties"))),
    ):
        yield from bounded_places(each, definitions, f"{place}[0]")


def name_of(place: str) -> str:
    return part_name(place).key.removeprefix("part.")


def test_each_text_list_and_number_has_bounds_and_each_bounded_part_has_a_name() -> None:
    schema = project_schema()
    bounded = dict(bounded_places(schema, schema["$defs"], ""))  # type: ignore[arg-type]
    lists = {
        re.sub(r"\[0\]", "[]", place) for place, by in bounded.items() if by & {"maxItems", "maxProperties"}
    }
    assert lists <= PART_NAMES.keys()
    nameless = [
        place
        for place, by in bounded.items()
        if by & {"minimum", "maxLength"} and name_of(place) in {PART_NAMES[""], *map(PART_NAMES.get, lists)}
    ]
    assert nameless == []
    text = json.dumps(schema)
    for kind, bound in (("string", "maxLength"), ("number", "maximum"), ("integer", "maximum")):
        loose = [
            part
            for part in re.findall(r"\{[^{}]*\}", text)
            if f'"type": "{kind}"' in part and bound not in part
        ]
        assert loose == []


def test_each_name_of_a_part_has_its_words() -> None:
    known = read_words("en").texts
    assert [name for name in PART_NAMES.values() if f"part.{name}" not in known] == []
