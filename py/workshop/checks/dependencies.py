"""Whether what is imported, what pyproject.toml lists and what the locks pin are the same things."""

import ast
import importlib.metadata
import re
import sys
import tomllib
from collections.abc import Iterator, Mapping
from functools import cache as once
from itertools import zip_longest
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from workshop.locks import PAGE_LOCK, WORKSHOP_LOCK
from workshop.places import REPOSITORY

PACKAGE_FOLDER = "py/peekpaper"
FOLDERS = ("py", "tests", "e2e")
# `table` lies among the benches and is found there by `build.py bench`.
OWN = {"peekpaper", "workshop", "tests", "e2e", "table"}
# Only the page's own Python has these.
OF_THE_PAGE = {"js", "pyodide", "pyodide_js"}
# Run as programs or plugins: imported nowhere.
PROGRAMS = {"mypy", "pytest-xdist", "ruff", "types-shapely", "uv"}
# trimesh asks for it when it cuts a mesh into slices, and does not bring it along.
ASKED_FOR = {"networkx"}
PINNED = re.compile(r"^([\w.-]+)==\S+.*\\$")


def complaints(root: Path = REPOSITORY) -> Iterator[str]:
    """Yield a sentence for each import no list names, each name nothing imports, each pin without hash."""
    project = tomllib.loads((root / "pyproject.toml").read_text())["project"]
    extras = project["optional-dependencies"]
    later = [name for extra, names in extras.items() if extra != "dev" for name in names]
    shipped = _names([*project["dependencies"], *later])
    listed = shipped | _names(extras["dev"])
    used: set[str] = set()
    used_by_package: set[str] = set()
    for folder in FOLDERS:
        for path in sorted((root / folder).rglob("*.py")):
            place = path.relative_to(root).as_posix()
            if "/recipe/" in place:
                continue
            allowed = shipped if place.startswith(PACKAGE_FOLDER) else listed
            for name in sorted(_imported(path)):
                brought_by = _distributions(name)
                used |= brought_by
                if place.startswith(PACKAGE_FOLDER):
                    used_by_package |= brought_by
                if not brought_by & allowed:
                    yield f"{place} imports {name}, which the lists of pyproject.toml do not give it"
    yield from (
        f"pyproject.toml lists {name}, which nothing imports"
        for name in sorted(listed - used - PROGRAMS - ASKED_FOR)
    )
    yield from (
        f"pyproject.toml ships {name}, which only the workshop or tests import: list it under dev"
        for name in sorted(shipped & used - used_by_package)
    )
    for lock in (WORKSHOP_LOCK, PAGE_LOCK):
        yield from _without_hash(root / lock.relative_to(REPOSITORY))


def _names(requirements: list[str]) -> set[str]:
    return {canonicalize_name(Requirement(text).name) for text in requirements}


def _imported(path: Path) -> set[str]:
    """Return the top-level modules of others that a file imports, wherever in it the import stands."""
    names = set()
    for node in ast.walk(ast.parse(path.read_bytes())):
        if isinstance(node, ast.Import):
            names |= {alias.name.partition(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.level == 0 and node.module:
            names.add(node.module.partition(".")[0])
    beside = {other.stem for other in path.parents[0].rglob("*.py")}
    beside |= {
        other.stem for folder in path.parents if folder.name == "tests" for other in folder.rglob("*.py")
    }
    return {name for name in names if name not in sys.stdlib_module_names | OWN | OF_THE_PAGE | beside}


def _distributions(module: str) -> set[str]:
    return {canonicalize_name(name) for name in _installed().get(module, [module])}


@once
def _installed() -> Mapping[str, list[str]]:
    return importlib.metadata.packages_distributions()


def _without_hash(lock: Path) -> Iterator[str]:
    lines = lock.read_text().splitlines()
    for line, after in zip_longest(lines, lines[1:], fillvalue=""):
        if line.strip() and not line.startswith(("#", " ")):
            pinned = PINNED.match(line)
            if not pinned or "--hash=sha256:" not in after:
                yield f"{lock.name} does not pin {line.split()[0]} by a hash"
