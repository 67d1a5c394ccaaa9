"""Functions, classes and constants that nothing calls, found by vulture.

Fields of dataclasses and members of enumerations are left out: their readers may be the page or a file.
"""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from vulture import Vulture

from workshop.places import REPOSITORY

JUDGED = ("build.py", "py/peekpaper", "py/workshop")
# Benches and the page's tests count as users; a function that only package tests call is dead all the same.
USERS = ("tests/bench", "e2e")
# Called from outside the code that is looked at: by the page, by the standard library, by name.
CALLED_FROM_OUTSIDE = [
    "Desk",  # the page's worker
    "Packer",  # its packing workers
    "*Handler",  # the XML parser's hooks
    "previous_siblings",  # of an element, asked for by the selectors' library
    "_draw_*",  # path commands, found by their letter
    "do_*",
    "send_head",
    "handle_error",  # the server's hooks
    "log_message",
    "run",
    "add_parser",  # the subcommands, found by their module
]
ASSIGNED_FOR_OTHERS = {"attribute"}  # set on objects of the standard library and read there


def complaints(root: Path = REPOSITORY) -> Iterator[str]:
    """Yield a sentence for each piece of code that nothing uses."""
    finder = Vulture(ignore_names=CALLED_FROM_OUTSIDE)
    in_the_chroot = str(root / "py" / "*" / "recipe" / "*")
    looked_at = [str(root / path) for path in (*JUDGED, *USERS) if (root / path).exists()]
    finder.scavenge(looked_at, exclude=[in_the_chroot])
    for item in finder.get_unused_code(min_confidence=60):
        path = item.filename.relative_to(root).as_posix()
        if item.typ in ASSIGNED_FOR_OTHERS or not path.startswith(JUDGED):
            continue
        if item.typ == "variable" and _is_field(item):
            continue
        yield f"{path}:{item.first_lineno}: {item.message}"


def _is_field(item: Any) -> bool:
    line: str = item.filename.read_text().splitlines()[item.first_lineno - 1]
    return line.startswith(" ")
