"""Whether what is imported, what pyproject.toml lists and what the locks pin are the same things."""

import json
import re
import subprocess
from collections.abc import Iterator, Sequence
from itertools import zip_longest
from pathlib import Path
from tempfile import TemporaryDirectory

from workshop.environment import tool
from workshop.locks import PAGE_LOCK, WORKSHOP_LOCK
from workshop.places import REPOSITORY

PACKAGE_FOLDER = "py/peekpaper"
FOLDERS = ("py", "tests", "e2e")
OWN = ("peekpaper", "workshop", "tests", "e2e")
# Only the page's own Python has these.
OF_THE_PAGE = ("js", "pyodide", "pyodide_js")
# Run as programs or plugins: imported nowhere.
PROGRAMS = ("deptry", "mypy", "pytest-xdist", "ruff", "types-shapely", "uv")
# What compiles the browser's Python runs in a system of its own.
RECIPE = "/recipe/"
PINNED = re.compile(r"^([\w.-]+)==\S+.*\\$")


def complaints(root: Path = REPOSITORY) -> Iterator[str]:
    """Yield a sentence for each import no list names, each name nothing imports, each pin without hash.

    The package may lean on what is shipped alone, and all that is shipped must serve it. Tests and workshop
    import one another by bare names, and fail by themselves where one is missing.
    """
    yield from _told(root, [PACKAGE_FOLDER], "--optional-dependencies-dev-groups", "dev")
    folders = [folder for folder in FOLDERS if (root / folder).is_dir()]
    yield from _told(root, folders, "--ignore", "DEP001,DEP003")
    for lock in (WORKSHOP_LOCK, PAGE_LOCK):
        yield from _without_hash(root / lock.relative_to(REPOSITORY))


def _told(root: Path, folders: Sequence[str], *options: str) -> Iterator[str]:
    """Yield what deptry finds in some folders."""
    own = [word for name in (*OWN, *OF_THE_PAGE) for word in ("--known-first-party", name)]
    aside = ["--per-rule-ignores", f"DEP002={'|'.join(PROGRAMS)}", "--exclude", RECIPE]
    with TemporaryDirectory() as scratch:
        found = Path(scratch) / "found.json"
        done = subprocess.run(
            [tool("deptry"), *folders, *own, *aside, *options, "--json-output", str(found)],
            cwd=root,
            capture_output=True,
            text=True,
            check=False,
        )
        if not found.is_file():
            yield done.stderr
            return
        for finding in json.loads(found.read_text()):
            yield f"{finding['location']['file']}: {finding['error']['message']}"


def _without_hash(lock: Path) -> Iterator[str]:
    lines = lock.read_text().splitlines()
    for line, after in zip_longest(lines, lines[1:], fillvalue=""):
        if line.strip() and not line.startswith(("#", " ")):
            pinned = PINNED.match(line)
            if not pinned or "--hash=sha256:" not in after:
                yield f"{lock.name} does not pin {line.split()[0]} by a hash"
