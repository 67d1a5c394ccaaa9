"""The project document as a file: versioned JSON, one object, with the project's fields after the envelope's.

The JSON Schema of the newest version is in `project.schema.json`. A field that is missing takes its default;
a part that the version does not know is refused, because reading on would lose it. Beside the project a file
may hold `layout`, what is kept of its plan (`plan/kept.py`), as JSON, for whoever reads it to judge.
"""

from dataclasses import dataclass
from pathlib import PurePath
from secrets import token_hex

from peekpaper.bounds import MOST_NAME
from peekpaper.papers.paper import Colourway
from peekpaper.project.codec import Json, Mismatch, decode, encode
from peekpaper.project.envelope import open_envelope, refuse_mismatch
from peekpaper.project.json_text import write_json
from peekpaper.project.migrate import VERSION, Document, migrate
from peekpaper.project.project import Project, Source
from peekpaper.project.sound import refuse_unsound
from peekpaper.project.start_shelf import start_shelf
from peekpaper.words.words import Language, read_words

FORMAT = "peekpaper project"
LAYOUT = "layout"
_ENVELOPE = ("format", "version", LAYOUT)


@dataclass(frozen=True, slots=True)
class Saved:
    """What a project file holds: a project, and what is kept of its plan, None for nothing."""

    project: Project
    layout: object = None


def new_project(name: str, svg: str, words: Language | None = None) -> Project:
    """Return a project for a design just brought in: the start shelf, one colourway, everything open.

    `name` is the file's name, `svg` its text. Papers and colourway are named in the language of `words`,
    English if none; from then on their names are the person's, since printed lists and copies that are sent
    bear them.
    """
    named = words or read_words("en")
    return Project(
        id=token_hex(8),
        name=PurePath(name).stem[:MOST_NAME] or "Design",
        source=Source(name=name[:MOST_NAME], svg=svg),
        shelf=start_shelf(named),
        colourways=(Colourway("c1", named.text("colourway.name", number=1)),),
        colourway="c1",
    )


def to_document(project: Project) -> dict[str, Json]:
    """Return the project as the JSON object that the file holds."""
    fields = encode(project)
    assert isinstance(fields, dict)
    return {"format": FORMAT, "version": VERSION, **fields}


def to_json(project: Project, layout: Json = None) -> str:
    """Return the project as the text of its file: equal projects give equal texts.

    `layout` is what is kept of its plan.
    """
    beside = {} if layout is None else {LAYOUT: layout}
    return write_json({**to_document(project), **beside}) + "\n"


def from_document(document: Document, thing: str = "project-file") -> Project:
    """Return the project that a JSON object of any version says.

    `thing` names what is opened: "project-file" or "link". Raises Refusal where a part is missing, foreign
    or of the wrong kind, where parts contradict one another, and where the version is newer than this one.
    """
    newest = migrate(document, thing)
    try:
        project = decode(Project, {key: part for key, part in newest.items() if key not in _ENVELOPE})
    except Mismatch as mismatch:
        raise refuse_mismatch(mismatch, thing) from None
    refuse_unsound(project)
    return project


def from_json(text: str) -> Project:
    """Return the project in the text of a project file. Raises Refusal as `from_document`, or if cut off."""
    return read_saved(text).project


def read_saved(text: str) -> Saved:
    """Return what the text of a project file holds. Raises Refusal as `from_json`."""
    document = open_envelope(text, FORMAT, "project-file")
    return Saved(from_document(document), document.get(LAYOUT))
