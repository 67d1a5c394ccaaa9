"""What our files have around them: the name of their format and its version."""

import json

from peekpaper.project.codec import Mismatch
from peekpaper.project.json_text import read_json
from peekpaper.project.migrate import Document
from peekpaper.refusal import Refusal


def open_envelope(text: str, format_name: str, thing: str) -> Document:
    """Return the JSON object in `text`, known to be of the format `format_name`.

    `thing` names it to the person ("project file"). Raises Refusal where the text is cut off or foreign.
    """
    try:
        document = read_json(text.removeprefix("\ufeff"))
    except json.JSONDecodeError as error:
        if text.lstrip("\ufeff \n\r\t").startswith("{") and _ends_early(text, error):
            raise Refusal(
                f"This {thing} is cut off, its end is missing: take another copy, or save it once more."
            ) from None
        raise Refusal(f"This is no {thing}: choose a file that Peekpaper saved.") from None
    except ValueError:
        raise Refusal(f"This is no {thing}: choose a file that Peekpaper saved.") from None
    if not isinstance(document, dict) or document.get("format") != format_name:
        raise Refusal(f"This is no {thing}: choose a file that Peekpaper saved.")
    return document


def _ends_early(text: str, error: json.JSONDecodeError) -> bool:
    return error.pos >= len(text.rstrip()) - 1 or error.msg.startswith("Unterminated string")


def refuse_mismatch(mismatch: Mismatch, thing: str) -> Refusal:
    """Return the refusal of a document of ours whose parts do not fit."""
    return Refusal(f"This {thing} can't be opened because {mismatch}: take another copy of it.")
