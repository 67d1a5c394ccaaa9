"""Help tells of a control by the key that it carries: each key has its line, each line its control."""

import json
import re
from pathlib import Path

from workshop.places import PACKAGE, WEB

HELP = "help."
WORDS: dict[str, object] = json.loads((PACKAGE / "words" / "en.json").read_text(encoding="utf-8"))["words"]
LINES = {key.removeprefix(HELP) for key in WORDS if key.startswith(HELP)}
# What help says of itself.
OF_HELP = {"title", "begin", "none"}
# A key given to an element, or to a part that words and carries it; what is only said is not carried.
SAID = re.compile(r"""say\(\s*("[^"]*"|`[^`]*`)""")
KEY = re.compile(r"""["`]([a-z][\w.${}-]*)["`]""")
GIVEN = re.compile(r"""(?:\bhelp: |data-help=)"([^"]*)\"""")


def sources() -> dict[Path, str]:
    """Return the page and its modules that make controls, without what they only say."""
    paths = [
        WEB / "index.html",
        *(path for room in ("parts", "places", "shell", "stage") for path in (WEB / room).rglob("*.js")),
    ]
    return {path: SAID.sub("", path.read_text(encoding="utf-8")) for path in paths}


def test_every_line_of_help_has_a_control_that_carries_its_key() -> None:
    keys = {key for text in sources().values() for key in KEY.findall(text)}
    patterns = [
        re.compile(re.sub(r"\\\$\\\{.*?\\\}", "[^.]+", re.escape(key)))
        for key in keys
        if "${" in key and "." in key
    ]
    idle = [
        line
        for line in sorted(LINES - OF_HELP - keys)
        if not any(pattern.fullmatch(line) for pattern in patterns)
    ]
    assert idle == []


def test_every_key_given_for_help_has_its_line() -> None:
    lacking = [
        f"{path.relative_to(WEB)}: {key}"
        for path, text in sources().items()
        for key in GIVEN.findall(text)
        if key not in LINES
    ]
    assert lacking == []
