"""Documents that a stranger might send: such as the package takes, with all that may trip a page in them."""

import json
from typing import Any

from e2e.panels import window_svg
from peekpaper.bounds import MOST_MM, MOST_NAME, MOST_WRITING
from peekpaper.project.document import new_project, to_document

Document = dict[str, Any]

INHERITED = ("constructor", "__proto__", "toString", "hasOwnProperty", "valueOf")
"""Names that every JavaScript object knows of itself."""
MARKUP = "<img src=x onerror=alert(1)><script>alert(1)</script>"
TRICKS = "\u202etfel ot thgir\u202c \u0000\u0007 {name} {1} $& \ud83d\ude00" + "\u0301" * 40


def inherited_names() -> Document:
    """Papers, patterns, colourways and punches called as what every object inherits."""
    document = _window()
    papers = document["shelf"]["papers"]
    names = {paper["id"]: name for paper, name in zip(papers, INHERITED, strict=False)}
    for paper in papers:
        paper["id"] = names.get(paper["id"], paper["id"])
        paper["pattern"] = paper["id"]
    for scrap in document["shelf"]["scraps"]:
        scrap["paper"] = names.get(scrap["paper"], scrap["paper"])
    for colourway in document["colourways"]:
        given = colourway["papers"].items()
        colourway["papers"] = {number: names.get(paper, paper) for number, paper in given}
    document["colourways"][0]["id"] = document["colourway"] = "constructor"
    document["backing"]["punches"] = [*INHERITED, *document["backing"]["punches"]]
    document["backing"]["simple_shapes"] = [[1, "constructor"]]
    document["page"]["background"] = "constructor"
    return document


def longest_texts() -> Document:
    """Every text as long as it may be, full of markup and of characters that turn and stack."""
    document = _window()
    name = ((MARKUP + TRICKS) * 9)[:MOST_NAME]
    document["name"] = document["source"]["name"] = name
    for thing in (*document["shelf"]["papers"], *document["colourways"]):
        thing["name"] = name
    words = (f"{MARKUP} {TRICKS} word " * 99)[:MOST_WRITING]
    long = "w" * MOST_WRITING
    document["page"]["blocks"] += [
        _block(kind, text) for kind in ("writing", "title", "photo", "constructor") for text in (words, long)
    ]
    return document


def largest_numbers() -> Document:
    """Every measure of the page and of its things at its bound."""
    document = _window()
    document["page"].update(width_mm=MOST_MM, height_mm=0.001)
    document["page"]["blocks"] += [
        _block(
            "writing", "far away", x_mm=side * MOST_MM, y_mm=-side * MOST_MM, width_mm=MOST_MM, turn_deg=1e6
        )
        for side in (-1.0, 1.0)
    ]
    document["ticked"] = document["ticked_bits"] = [0, 1_000_000]
    document["plan"]["seed"] = 2**53
    return document


def beyond_bounds() -> Document:
    """A text that would hang the page if it were drawn."""
    document = _window()
    document["page"]["blocks"].append(_block("writing", "word " * 78_000))
    return document


NASTY = {made.__name__: made for made in (inherited_names, longest_texts, largest_numbers)}


def as_file(document: Document) -> str:
    """The text of a project file."""
    return json.dumps(document)


def _window() -> Document:
    document: Document = to_document(new_project("window.svg", window_svg()))
    papers = document["shelf"]["papers"]
    document["shelf"]["scraps"] = [
        {"id": "s1", "paper": papers[0]["id"], "width_mm": 60.0, "height_mm": 40.0}
    ]
    document["colourways"][0]["papers"] = {str(at + 1): papers[at]["id"] for at in range(5)}
    return document


def _block(kind: str, text: str, **measures: float) -> Document:
    return {
        "kind": kind,
        "x_mm": 80.0,
        "y_mm": 80.0,
        "width_mm": 90.0,
        "height_mm": 60.0,
        "text": text,
        **measures,
    }
