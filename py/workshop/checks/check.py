"""What must hold for each change before any test runs: style, types, import rules, nothing dead or double."""

import subprocess
import sys
from collections.abc import Callable

from workshop import javascript, locks
from workshop.checks import dead_code, dependencies, duplicates, layers, web_layers, wording
from workshop.environment import tool
from workshop.places import REPOSITORY

SOURCES = ("build.py", "py", "tests", "e2e")


def check() -> int:
    """Do all checks, also after one has failed; returns 0 where all are clean, else 1."""
    checks: dict[str, Callable[[], int]] = {
        "style (ruff)": lambda: _tool("ruff", "check", "--quiet", *SOURCES),
        "form (ruff)": lambda: _tool("ruff", "format", "--check", "--quiet", *SOURCES),
        "types of the package (mypy)": lambda: _tool("mypy", "-p", "peekpaper"),
        "types of the workshop (mypy)": lambda: _tool("mypy", "-p", "workshop"),
        "types of the page (tsc)": javascript.type_check,
        "imports between steps": lambda: _tell(layers.complaints()),
        "imports between folders of the page": lambda: _tell(list(web_layers.complaints())),
        "dead code (vulture)": lambda: _tell(list(dead_code.complaints())),
        "lines written twice": lambda: _tell(list(duplicates.complaints())),
        "words of the page in one place": lambda: _tell(list(wording.complaints())),
        "dependencies": lambda: _tell(list(dependencies.complaints())),
        "locks": lambda: _tell(
            [
                f"{lock.name} is older than pyproject.toml: run python3 build.py lock"
                for lock in locks.out_of_date()
            ]
        ),
    }
    failed = [name for name, run in checks.items() if not _passes(name, run)]
    print(
        f"{len(checks) - len(failed)} of {len(checks)} checks are clean."
        if failed
        else "All checks are clean."
    )
    return 1 if failed else 0


def _passes(name: str, run: Callable[[], int]) -> bool:
    sys.stdout.flush()
    clean = run() == 0
    print(f"{'ok    ' if clean else 'FAILED'} {name}", flush=True)
    return clean


def _tool(name: str, *words: str) -> int:
    return subprocess.run([tool(name), *words], cwd=REPOSITORY, check=False).returncode


def _tell(complaints: list[str]) -> int:
    for complaint in complaints:
        print(complaint)
    return len(complaints)
