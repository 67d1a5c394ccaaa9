"""A shelf as a file of its own, to take elsewhere; pictures, if any, lie beside it in a zip."""

import re
from collections.abc import Mapping

from peekpaper.papers.paper import Shelf
from peekpaper.project.codec import Mismatch, decode, encode
from peekpaper.project.envelope import open_envelope, refuse_mismatch
from peekpaper.project.json_text import write_json
from peekpaper.project.migrate import Step, migrate
from peekpaper.project.shelf_sound import refuse_unsound_shelf
from peekpaper.refusal import Refusal

FORMAT = "peekpaper shelf"
VERSION = 1
STEPS: Mapping[int, Step] = {}


_BEGINS = re.compile(rf'\ufeff?\s*{{\s*"format"\s*:\s*"{FORMAT}"')


def is_shelf_file(text: str) -> bool:
    """Tell whether the text of a file begins as a shelf file does."""
    return _BEGINS.match(text) is not None


def shelf_to_json(shelf: Shelf) -> str:
    """Return the shelf as the text of its file."""
    return write_json({"format": FORMAT, "version": VERSION, "shelf": encode(shelf)}) + "\n"


def shelf_from_json(text: str) -> Shelf:
    """Return the shelf in the text of a shelf file.

    Raises Refusal where it is cut off, foreign or newer, and where a paper or scrap can't be.
    """
    document = migrate(open_envelope(text, FORMAT, "shelf-file"), "shelf-file", VERSION, STEPS)
    try:
        shelf = decode(Shelf, document.get("shelf"), "shelf")
    except Mismatch as mismatch:
        raise refuse_mismatch(mismatch, "shelf-file") from None
    refuse_unsound_shelf(shelf)
    if not shelf.papers:
        raise Refusal("shelf-file-empty")
    return shelf
