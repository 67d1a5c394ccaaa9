"""Projects with spoilt decisions, worked on as the page does: each call ends in a result or a sentence."""

import json
import re
from collections.abc import Iterator
from random import Random
from typing import Any

from mangling import mangled_json
from trial import Trial, share_of_inputs

from peekpaper.desk.desk import Desk
from peekpaper.message import Message
from peekpaper.project.document import new_project, to_document
from peekpaper.words.words import read_words

Document = dict[str, Any]

CARD = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="30mm" viewBox="0 0 40 30">'
    '<path fill-rule="evenodd" d="M0 0h40v30h-40zM5 5h10v20h-10zM20 5h12v8h-12zM20 17l12 2-6 8z"/></svg>'
)
SENTENCE = re.compile(r"[A-Z“].{15,}[.!]", re.DOTALL)
# What the page asks for when a project is opened and its places are gone through.
CALLS = ("design", "backing", "mends", "plan", "checklist", "start_page", "uses", "readings", "link", "save")
NUMBERS = (0, -1, 1, 2, 3, 0.001, -0.5, 0.3, 25.4, 63, 304.8, 1000, 4999, 99_999.9, 1e-9, 1e5, -1e5, 1e300)
TEXTS = (
    "",
    "p1",
    "p2",
    "constructor",
    "__proto__",
    "mm",
    "#ffffff",
    "square 1 in",
    "w" * 300,
    "a\nb\0c",
    "\u202e",
)
CHANGES = (
    {"kind": "bar", "line": [[20, 40], [60, 40]], "width": 4},
    {"kind": "thicken", "line": [[56, 20], [76, 90]], "width": 8},
    {"kind": "rub", "line": [[0, 56], [150, 57]], "radius": 3},
    {"kind": "fill", "at": [40, 50]},
    {"kind": "cut", "outline": [[60, 20], [70, 20], [70, 60]]},
    {"kind": "loose-bit", "at": [40, 50], "fate": "drop"},
    {"kind": "frame", "shape": "rectangle", "width": 20, "margin": 5, "corner": 4, "hole": 9},
    {"kind": "divide", "joint": "edge"},
    {"kind": "frame", "shape": "outline", "width": 20, "margin": -5},
    {"kind": "smooth", "tolerance": 0.5},
    {"kind": "drop-specks", "area": 9},
    {"kind": "fill-small", "area": 900},
)


def seed() -> Document:
    project = to_document(new_project("card.svg", CARD))
    document: Document = json.loads(json.dumps(project))
    papers = [paper["id"] for paper in document["shelf"]["papers"]]
    document["colourways"][0]["papers"] = {str(number): papers[number] for number in (1, 2, 3)}
    document["shelf"]["scraps"] = [{"id": "s1", "paper": papers[1], "width_mm": 60.0, "height_mm": 40.0}]
    document["backing"].update(joined=[[2, 3]], split=[[1, 2]], simple_shapes=[[2, "square 1/2 in"]])
    document["backing"]["whole_back"] = {"paper": papers[4], "edge_margin_mm": 2.0}
    document["page"]["blocks"] = [
        {"kind": kind, "x_mm": 50.0, "y_mm": 50.0, "width_mm": 40.0, "height_mm": 30.0, "text": "Hello"}
        for kind in ("piece", "photo", "title", "writing")
    ]
    document["plan"]["rounds"] = [{"paper": paper, "rounds": 1} for paper in papers]
    return document


def with_other_values(document: Document, chance: Random) -> Document:
    """Return the document with one to four of its values others of their kind, and maybe a few mends."""
    document = json.loads(json.dumps(document))
    if chance.random() < 0.4:
        changes = [dict(chance.choice(CHANGES)) for _ in range(chance.randint(1, 5))]
        document["mends"] = [{"id": f"m{at}", "change": change} for at, change in enumerate(changes)]
    for _ in range(chance.randint(1, 4)):
        places = [place for place in _leaves(document) if place[1] not in ("svg", "format", "version")]
        holder, key = chance.choice(places)
        value = holder[key]
        if isinstance(value, bool):
            holder[key] = not value
        elif isinstance(value, int | float):
            holder[key] = chance.choice(NUMBERS)
        elif isinstance(value, str):
            holder[key] = chance.choice(TEXTS)
    return document


def _leaves(value: Any) -> Iterator[tuple[Any, Any]]:
    for key, part in value.items() if isinstance(value, dict) else enumerate(value):
        if isinstance(part, dict | list):
            yield from _leaves(part)
        else:
            yield value, key


def works(text: str) -> bool:
    """Whether the project opened; every call on it must end in a result or in a sentence."""
    desk = Desk()
    opened = last(desk, "open", {"name": "card.json", "file": {"buffer": 0}}, text.encode())
    if opened is None:
        return False
    for call in CALLS:
        last(desk, call, {"project": opened["project"], "seconds": 0, "paper": "p1"})
    return True


def last(desk: Desk, call: str, arguments: Document, data: bytes = b"") -> Document | None:
    """Return the result of a call, None where it was refused in a sentence."""
    *_, step = desk.steps(call, json.dumps(arguments), [data])
    told: Document = json.loads(step.json)
    if step.kind == "refusal":
        sentence = read_words("en").say(_message(told["message"]))
        assert SENTENCE.fullmatch(sentence), sentence
        sentence.encode()
        return None
    assert step.kind == "result", step.kind
    return told


def _message(told: Document) -> Message:
    return Message(told["key"], {name: _figure(figure) for name, figure in told["figures"].items()})


def _figure(told: Any) -> Any:
    if isinstance(told, dict):
        return _message(told)
    return tuple(map(_figure, told)) if isinstance(told, list) else told


def test_the_seed_itself_works() -> None:
    desk = Desk()
    for call in CALLS:
        assert last(desk, call, {"project": seed(), "seconds": 0, "paper": "p1"}) is not None, call


def test_projects_with_other_values(trial: Trial) -> None:
    chance = Random(95)
    documents = (with_other_values(seed(), chance) for _ in range(share_of_inputs(0.02)))
    trial.of(map(json.dumps, documents), works)


def test_projects_with_spoilt_parts(trial: Trial) -> None:
    chance = Random(96)
    documents = (mangled_json(seed(), chance) for _ in range(share_of_inputs(0.02)))
    trial.of(map(json.dumps, documents), works)
