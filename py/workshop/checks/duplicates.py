"""Runs of equal lines in two places: what is written twice has to be changed twice.

Blank lines, comments, imports and lone brackets do not count, nor does white space.
"""

from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

from workshop.places import REPOSITORY

FOLDERS = ("py", "web", "tests", "e2e")
ENDINGS = {".py", ".js", ".mjs", ".css", ".html", ".sh"}
LEAST_LINES = 8
# A style sheet can't give one set of colours to a choice and to a preference of the system at once.
SAID_TWICE = {"web/styles/tokens.css"}
NOT_CODE = ("#", "//", "/*", "*", "import ", "from ")
LEAST_LETTERS = 4

Line = tuple[int, str]


def complaints(root: Path = REPOSITORY) -> Iterator[str]:
    """Yield a sentence for each run of at least eight equal lines that stands in two places."""
    files = {
        path.relative_to(root).as_posix(): _lines(path)
        for folder in FOLDERS
        for path in sorted((root / folder).rglob("*"))
        if path.suffix in ENDINGS and "node_modules" not in path.parts
    }
    places: dict[tuple[str, ...], list[tuple[str, int]]] = defaultdict(list)
    for name, lines in files.items():
        if name not in SAID_TWICE:
            for at in range(len(lines) - LEAST_LINES + 1):
                places[tuple(text for _, text in lines[at : at + LEAST_LINES])].append((name, at))
    told: set[tuple[str, int]] = set()
    for (first, at), *others in places.values():
        for other, where in others:
            # The windows of a longer run overlap: it is told where it begins.
            if (other, where - 1) not in told:
                yield (
                    f"{other}:{files[other][where][0]}: {LEAST_LINES} lines or more stand in"
                    f" {first}:{files[first][at][0]} as well"
                )
            told.add((other, where))


def _lines(path: Path) -> list[Line]:
    lines = ((number, " ".join(line.split())) for number, line in enumerate(path.read_text().splitlines(), 1))
    return [
        (number, line)
        for number, line in lines
        if len(line) >= LEAST_LETTERS and not line.startswith(NOT_CODE)
    ]
