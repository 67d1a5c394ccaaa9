"""What must hold for each change before any test runs: style, types, import rules, nothing dead or double."""

import os
import subprocess
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from workshop import javascript, locks
from workshop.checks import dead_code, dependencies, duplicates, layers, web_layers, wording
from workshop.environment import tool
from workshop.places import REPOSITORY

SOURCES = ("build.py", "py", "tests", "e2e")


def check() -> int:
    """Do all checks, also after one has failed, side by side; returns 0 where all are clean, else 1."""
    checks: dict[str, Callable[[], list[str]]] = {
        "style (ruff)": lambda: _tool("ruff", "check", "--quiet", *SOURCES),
        "form (ruff)": lambda: _tool("ruff", "format", "--check", "--quiet", *SOURCES),
        "types of package and workshop (mypy)": lambda: _tool("mypy", "-p", "peekpaper", "-p", "workshop"),
        "types of the page (tsc)": javascript.type_complaints,
        "imports between steps": layers.complaints,
        "imports between folders of the page": lambda: list(web_layers.complaints()),
        "dead code (vulture)": lambda: list(dead_code.complaints()),
        "lines written twice": lambda: list(duplicates.complaints()),
        "words of the page in one place": lambda: list(wording.complaints()),
        "dependencies": lambda: list(dependencies.complaints()),
        "locks": lambda: [
            f"{lock.name} is older than pyproject.toml: run python3 build.py lock"
            for lock in locks.out_of_date()
        ],
    }
    with ThreadPoolExecutor(os.cpu_count()) as side_by_side:
        found = [(name, side_by_side.submit(run)) for name, run in checks.items()]
        clean = sum(_is_clean(name, complaints.result()) for name, complaints in found)
    print("All checks are clean." if clean == len(checks) else f"{clean} of {len(checks)} checks are clean.")
    return 0 if clean == len(checks) else 1


def _is_clean(name: str, complaints: list[str]) -> bool:
    for complaint in complaints:
        print(complaint)
    print(f"{'FAILED' if complaints else 'ok    '} {name}", flush=True)
    return not complaints


def _tool(name: str, *words: str) -> list[str]:
    done = subprocess.run(
        [tool(name), *words],
        cwd=REPOSITORY,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        check=False,
    )
    return [] if done.returncode == 0 else [done.stdout or f"{name} failed"]
