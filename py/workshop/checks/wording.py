"""English in the page's code: what it says belongs in `web/words/`, where translations reach it."""

import re
from collections.abc import Iterator
from pathlib import Path

from workshop.places import REPOSITORY, WEB

# It speaks where the page's own modules can't be loaded.
SPEAKS_ALONE = {"too-old.js"}
COMMENT = re.compile(r"/\*.*?\*/|(?<!:)//[^\n]*", re.DOTALL)
STRING = r'"((?:[^"\\\n]|\\.)*)"'
# A sentence, or its beginning: a word with a capital letter and more after it.
SENTENCE = re.compile(r"[A-Z][a-z]+,? [a-z]|[A-Z][a-z]+[^<>]*[.!?]$")
SHOWN = re.compile(
    rf"(?:textContent|innerText|[\"']?(?:aria-label|title|placeholder|alt)[\"']?)\s*[=:]\s*(?:{STRING}|`([^`]*)`)"
)
WORD = re.compile(r"[A-Za-z]{2,}")
# The words come from where they belong.
SAY = "say("
FILLED_IN = re.compile(r"\$\{[^}]*\}")


def complaints(web: Path = WEB) -> Iterator[str]:
    """Yield a sentence for each text in the page's modules that a person would read as it stands."""
    for path in sorted(web.rglob("*.js")):
        place = path.relative_to(web)
        if place.parts[0] == "words" or place.name in SPEAKS_ALONE or "node_modules" in place.parts:
            continue
        code = COMMENT.sub(lambda comment: "\n" * comment[0].count("\n"), path.read_text())
        for match in re.finditer(rf"{STRING}|`([^`]*)`", code):
            if SENTENCE.match(_bare(match)) and SAY not in match[0]:
                yield _complaint(path, code, match)
        for match in SHOWN.finditer(code):
            if WORD.search(_bare(match)) and not SENTENCE.match(_bare(match)) and SAY not in match[0]:
                yield _complaint(path, code, match)


def _bare(match: re.Match[str]) -> str:
    return FILLED_IN.sub("", match[1] or match[2] or "")


def _complaint(path: Path, code: str, match: re.Match[str]) -> str:
    name = path.relative_to(REPOSITORY) if path.is_relative_to(REPOSITORY) else path.name
    line = code.count("\n", 0, match.start()) + 1
    return f"{name}:{line}: “{_bare(match)[:60]}” is said outside of web/words"
