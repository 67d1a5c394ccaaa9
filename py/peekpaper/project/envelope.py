"""What our files have around them: the name of their format and its version."""

import json
import re

from peekpaper.message import message
from peekpaper.project.codec import Mismatch, UnknownPart
from peekpaper.project.json_text import read_json
from peekpaper.project.migrate import Document
from peekpaper.refusal import Refusal

MOST_PARTS = 1_000_000
"""Lists and objects in a file; each takes some hundred bytes of memory, however short it is written."""
_ENDING = re.compile(r"[\w.+-]*|\W")
"""What may be left where a text that is cut off can't be read on: part of a word or number, or a mark."""


def open_envelope(text: str, format_name: str, thing: str) -> Document:
    """Return the JSON object in `text`, known to be of the format `format_name`.

    `thing` names it: "project-file", "shelf-file". Raises Refusal where the text is cut off or foreign.
    """
    if text.count("[") + text.count("{") > MOST_PARTS:
        raise Refusal("file-of-many-parts", thing=message(f"thing.{thing}"))
    try:
        document = read_json(text.removeprefix("\ufeff"))
    except json.JSONDecodeError as error:
        raise _refuse_damage(text, error, format_name, thing) from None
    except ValueError:
        raise _refuse_foreign(thing) from None
    if not isinstance(document, dict) or document.get("format") != format_name:
        raise _refuse_foreign(thing)
    return document


def _refuse_foreign(thing: str) -> Refusal:
    return Refusal("no-shelf-file" if thing == "shelf-file" else "no-project-file")


def _refuse_damage(text: str, error: json.JSONDecodeError, format_name: str, thing: str) -> Refusal:
    if not text.lstrip("\ufeff \n\r\t").startswith("{"):
        return _refuse_foreign(thing)
    if _ENDING.fullmatch(text.rstrip(), error.pos) or error.msg.startswith("Unterminated string"):
        return Refusal("file-cut-off", thing=message(f"thing.{thing}"))
    if format_name in text[:200]:
        return Refusal("file-damaged", thing=message(f"thing.{thing}"), line=error.lineno)
    return _refuse_foreign(thing)


def refuse_mismatch(mismatch: Mismatch, thing: str) -> Refusal:
    """Return the refusal of a document of ours whose parts do not fit, or are out of bounds."""
    if isinstance(mismatch, UnknownPart):
        return Refusal("file-mismatch-newer", thing=message(f"thing.{thing}"), mismatch=mismatch.message)
    return Refusal("file-mismatch", thing=message(f"thing.{thing}"), mismatch=mismatch.message)
