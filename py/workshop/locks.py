"""The lock files: exact versions and hashes of all that pip installs, made from pyproject.toml by uv.

`locks/workshop.txt` is for CPython here (the package, its sheets, tests and tools), `locks/page.txt` for the
Python in the browser.
"""

import hashlib
import json
import subprocess
import tomllib
from pathlib import Path

from workshop.environment import tool
from workshop.places import LOCKS, REPOSITORY
from workshop.stopped import Stopped

PROJECT = REPOSITORY / "pyproject.toml"
WORKSHOP_LOCK = LOCKS / "workshop.txt"
PAGE_LOCK = LOCKS / "page.txt"
PAGE_PYTHON = "3.14"


def digest() -> str:
    """Return the hash of what pyproject.toml asks for; each lock tells in its head which it was made for."""
    tables = tomllib.loads(PROJECT.read_text())
    project, page = tables["project"], tables["tool"]["peekpaper"]["page"]
    asked = [project["dependencies"], project["optional-dependencies"], project["requires-python"], page]
    return hashlib.sha256(json.dumps(asked, sort_keys=True).encode()).hexdigest()


def out_of_date() -> list[Path]:
    """Return the locks that were made for another pyproject.toml than the present one."""
    head = f"# {digest()}\n"
    return [
        lock
        for lock in (WORKSHOP_LOCK, PAGE_LOCK)
        if not (lock.is_file() and lock.read_text().startswith(head))
    ]


def relock(upgrade: bool = False) -> None:
    """Write both locks; raises Stopped where uv finds no set of versions that fits."""
    tables = tomllib.loads(PROJECT.read_text())
    page = tables["tool"]["peekpaper"]["page"]
    shipped = [extra for extra in tables["project"]["optional-dependencies"] if extra != "dev"]
    extras = [word for extra in shipped for word in ("--extra", extra)]
    again = ["--upgrade"] if upgrade else []
    _compile(WORKSHOP_LOCK, [*extras, "--extra", "dev", "--universal", *again], "")
    without = [word for name in page["without"] for word in ("--no-emit-package", name)]
    _compile(
        PAGE_LOCK,
        [*extras, "--python-version", PAGE_PYTHON, *without, *again],
        "\n".join(page["also"]),
    )


def _compile(lock: Path, options: list[str], also: str) -> None:
    made = subprocess.run(
        [
            *(tool("uv"), "pip", "compile", "--quiet", "--generate-hashes", "--no-header", "--no-annotate"),
            *(*options, "--output-file", str(lock), str(PROJECT)),
            *(["-"] if also else []),
        ],
        input=also,
        capture_output=True,
        text=True,
        check=False,
    )
    if made.returncode != 0:
        raise Stopped(f"The lock {lock.name} can't be made from pyproject.toml: {made.stderr.strip()}")
    lock.write_text(f"# {digest()}\n# Made by `python3 build.py lock`.\n{lock.read_text()}")
