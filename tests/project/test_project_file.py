"""The project file: it gives back what was saved, and says in a sentence what it can't open."""

import dataclasses
import json
from importlib.resources import files
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st
from made_projects import projects

from peekpaper.papers.paper import Colourway
from peekpaper.project.document import from_json, new_project, to_document, to_json
from peekpaper.project.json_text import write_json
from peekpaper.project.migrate import VERSION, migrate
from peekpaper.project.project import Project
from peekpaper.project.schema import project_schema
from peekpaper.refusal import Refusal

SAMPLES = Path(__file__).parent / "samples"
SCHEMA = files("peekpaper.project").joinpath("project.schema.json").read_text()
VALIDATOR = jsonschema.Draft202012Validator(json.loads(SCHEMA))
SQUARE = '<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0h9v9h-9z"/></svg>'


def a_project() -> Project:
    return dataclasses.replace(
        new_project("kite.svg", SQUARE), colourways=(Colourway("c1", "Warm", {1: "p1", 2: "p3"}),)
    )


def edited(**parts: object) -> str:
    return json.dumps({**to_document(a_project()), **parts})


@given(projects())
def test_a_saved_project_is_valid_by_the_schema_opens_as_it_was_and_saves_to_the_same_file(
    project: Project,
) -> None:
    text = to_json(project)
    VALIDATOR.validate(json.loads(text))
    opened = from_json(text)
    assert opened == project
    assert to_json(opened) == text


def test_the_schema_in_the_package_is_that_of_the_dataclasses() -> None:
    assert write_json(project_schema()) + "\n" == SCHEMA, "run python -m peekpaper.project.schema"
    jsonschema.Draft202012Validator.check_schema(json.loads(SCHEMA))


@pytest.mark.parametrize(
    "change", [{"units": 3}, {"shelf": {"papers": [{}]}}, {"plan": {"trim_shape": "round"}}]
)
def test_the_schema_knows_wrong_documents_too(change: dict[str, object]) -> None:
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(json.loads(edited(**change)), project_schema())


def test_giving_one_opening_another_paper_changes_one_line_of_a_large_file() -> None:
    papers = {number: f"p{number % 10 + 1}" for number in range(1, 61)}
    before = dataclasses.replace(a_project(), colourways=(Colourway("c1", "Warm", papers),))
    after = dataclasses.replace(a_project(), colourways=(Colourway("c1", "Warm", {**papers, 30: "p9"}),))
    after = dataclasses.replace(after, id=before.id)
    old, new = to_json(before).splitlines(), to_json(after).splitlines()
    changed = [(a, b) for a, b in zip(old, new, strict=True) if a != b]
    assert [(a.strip(), b.strip()) for a, b in changed] == [('"30": "p1",', '"30": "p9",')]


def test_a_part_that_is_missing_takes_its_default() -> None:
    document = to_document(a_project())
    del document["plan"], document["look"]
    opened = from_json(json.dumps(document))
    assert opened.plan == Project("", "", opened.source).plan
    assert opened.look.card_colour == "#2f3b4a"


@pytest.mark.parametrize("sample", sorted(SAMPLES.glob("version-*.json")), ids=lambda path: path.stem)
def test_files_of_every_version_that_ever_was_still_open(sample: Path) -> None:
    project = from_json(sample.read_text())
    assert project.name == "Kite"
    assert project.colourways[0].papers == {1: "p1", 2: "p3"}


def test_a_document_with_two_sizes_of_the_mat_keeps_the_one_that_was_cut_on() -> None:
    document = to_document(a_project())
    mat = {"mat_width_mm": 210.0, "mat_height_mm": 297.0}
    limits = {"bar_mm": 1.2, "opening_mm2": 3.0, "mat_width_mm": 304.8, "mat_height_mm": 304.8}
    opened = from_json(json.dumps({**document, "version": 2, "limits": limits, "plan": mat}))
    assert (opened.plan.mat_width_mm, opened.plan.mat_height_mm) == (210.0, 297.0)
    assert (opened.limits.bar_mm, opened.limits.opening_mm2) == (1.2, 3.0)


def test_there_is_a_sample_of_every_version() -> None:
    assert {path.stem for path in SAMPLES.glob("*.json")} == {f"version-{n}" for n in range(1, VERSION + 1)}


def test_an_old_document_takes_every_step_to_the_newest_version_in_turn() -> None:
    steps = {
        1: lambda document: {**document, "steps": [1]},
        2: lambda document: {**document, "steps": [*document["steps"], 2]},
    }
    assert migrate({"version": 1}, "project file", 3, steps) == {"version": 3, "steps": [1, 2]}
    assert migrate({"version": 3}, "project file", 3, steps) == {"version": 3}


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9, 0.999])
def test_a_file_that_was_cut_off_is_said_to_be_cut_off(share: float) -> None:
    text = to_json(a_project()).rstrip()
    with pytest.raises(Refusal, match="cut off"):
        from_json(text[: int(len(text) * share)])


def test_a_file_is_said_to_be_cut_off_wherever_its_end_was_lost() -> None:
    text = to_json(a_project()).rstrip()
    for lost in range(1, 400):
        with pytest.raises(Refusal, match="cut off"):
            from_json(text[:-lost])


def test_a_file_that_was_damaged_in_the_middle_is_told_from_a_foreign_one() -> None:
    text = to_json(a_project())
    damaged = text.replace('"reading": {', '"reading": {{')
    with pytest.raises(Refusal, match="This project file is damaged in line 10: take another copy of it"):
        from_json(damaged)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "hello",
        "[]",
        "3",
        "null",
        "NaN",
        "{}",
        '{"format": "table", "version": 1}',
        SQUARE,
        "[" * 100_000,
        "1" * 5000,
    ],
)
def test_what_is_no_project_file_is_said_to_be_none(text: str) -> None:
    with pytest.raises(Refusal, match="This is no project file: choose a file that Peekpaper saved"):
        from_json(text)


def test_a_file_of_a_newer_version_is_refused_with_the_way_on() -> None:
    with pytest.raises(Refusal, match="newer Peekpaper: reload the page"):
        from_json(edited(version=VERSION + 1))


def test_a_part_that_only_a_newer_version_knows_is_refused_with_the_way_on() -> None:
    with pytest.raises(Refusal, match="saved by a newer Peekpaper: reload the page, then open it; or take"):
        from_json(edited(stickers=[]))


@pytest.mark.parametrize("version", [None, 0, -1, "1", 1.0, True, {}])
def test_a_version_that_never_was_is_refused(version: object) -> None:
    with pytest.raises(Refusal, match="names no version"):
        from_json(edited(version=version))


@pytest.mark.parametrize(
    ("parts", "sentence"),
    [
        ({"stickers": []}, "“stickers” is a part that this Peekpaper does not know"),
        ({"source": {"name": "kite.svg"}}, "“source.svg” is missing"),
        ({"source": "kite.svg"}, "“source” should be an object"),
        ({"plan": {"spacing_mm": "wide"}}, "“plan.spacing_mm” should be a number"),
        ({"plan": {"spacing_mm": 1e400}}, "This is no project file"),
        ({"plan": {"spacing_mm": 10**400}}, "“plan.spacing_mm” should be a number"),
        ({"plan": {"seed": True}}, "“plan.seed” should be a whole number"),
        ({"plan": {"mat_use": "stacked"}}, "“plan.mat_use” should be one of together, sheets"),
        ({"backing": {"joined": [[1, 2, 3]]}}, r"“backing.joined\[0\]” should be a list of 2"),
        ({"ticked": {"1": True}}, "“ticked” should be a list"),
        ({"name": "\ud800"}, "“name” has broken characters"),
        ({"colourways": [{"id": "c1", "name": "", "papers": {"one": "p1"}}]}, "keyed by whole numbers"),
        (
            {"colourways": [{"id": "c1", "name": "", "papers": {"1": "p77"}}]},
            "opening 1 a paper that is not on the",
        ),
        ({"colourways": [{"id": "c1", "name": ""}, {"id": "c1", "name": ""}]}, "Two colourways share"),
        ({"units": "ell"}, "“ell” is no unit"),
        ({"look": {"card_colour": "blue"}}, "“blue” is no colour"),
        ({"page": {"width_mm": 0}}, "page has no size"),
        ({"speed": {"mm_per_second": 0}}, "can't be that fast: time one cut"),
        ({"speed": {"mm_per_second": -5}}, "can't be that fast: time one cut"),
        ({"speed": {"seconds_per_piece": -1}}, "can't be that fast: time one cut"),
        (
            {"page": {"blocks": [{"kind": "photo", "x_mm": 0, "y_mm": 0, "width_mm": 0, "height_mm": 1}]}},
            "no size",
        ),
        (
            {"shelf": {"papers": [{"id": "a", "name": "Oat", "colour": "#fff"}]}},
            "colour of “Oat” is no colour",
        ),
    ],
)
def test_a_part_that_does_not_fit_is_named_in_the_sentence(parts: dict[str, object], sentence: str) -> None:
    text = edited(**parts)
    with pytest.raises(Refusal, match=sentence):
        from_json(text.replace("Infinity", "1e999") if "1e999" in text else text)


def test_a_mark_at_the_start_of_the_text_that_some_editors_leave_does_no_harm() -> None:
    project = a_project()
    assert from_json("\ufeff" + to_json(project)) == project


def test_a_new_project_starts_with_papers_and_everything_open() -> None:
    project = new_project("my kite.svg", SQUARE)
    assert (project.name, project.source.name, project.source.svg) == ("my kite", "my kite.svg", SQUARE)
    assert len(project.shelf.papers) == 10
    assert [colourway.papers for colourway in project.colourways] == [{}]
    assert project.colourway == project.colourways[0].id
    assert new_project("my kite.svg", SQUARE).id != project.id


@given(st.text(max_size=40))
def test_any_file_name_makes_a_project_that_can_be_saved(name: str) -> None:
    project = new_project(name, SQUARE)
    assert project.name
    assert from_json(to_json(project)) == project
