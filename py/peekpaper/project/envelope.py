"""What our files have around them: the name of their format and its version."""

import json

from peekpaper.project.codec import Mismatch, UnknownPart
from peekpaper.project.json_text import read_json
from peekpaper.project.migrate import Document
from peekpaper.refusal import Refusal

MOST_PARTS = 1_000_000
"""Lists and objects in a file; each takes some hundred bytes of memory, however short it is written."""


def open_envelope(text: str, format_name: str, thing: str) -> Document:
    """Return the JSON object in `text`, known to be of the format `format_name`.

    `thing` names it to the person ("project file"). Raises Refusal where the text is cut off or foreign.
    """
    if text.count("[") + text.count("{") > MOST_PARTS:
        raise Refusal(f"This {thing} has far more parts than any project needs: take another copy of it.")
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
    return Refusal(f"This is no {thing}: choose a file that Peekpaper saved.")


def _refuse_damage(text: str, error: json.JSONDecodeError, format_name: str, thing: str) -> Refusal:
    if not text.lstrip("\ufeff \n\r\t").startswith("{"):
        return _refuse_foreign(thing)
    if error.pos >= len(text.rstrip()) - 1 or error.msg.startswith("Unterminated string"):
        return Refusal(
            f"This {thing} is cut off, its end is missing: take another copy, or save it once more."
        )
    if format_name in text[:200]:
        return Refusal(f"This {thing} is damaged in line {error.lineno}: take another copy of it.")
    return _refuse_foreign(thing)


def refuse_mismatch(mismatch: Mismatch, thing: str) -> Refusal:
    """Return the refusal of a document of ours whose parts do not fit, or are out of bounds."""
    if isinstance(mismatch, UnknownPart):
        return Refusal(
            f"This {thing} can't be opened because {mismatch}; it may have been saved by a newer Peekpaper:"
            " reload the page, then open it; or take another copy."
        )
    return Refusal(f"This {thing} can't be opened because {mismatch}: take another copy of it.")
