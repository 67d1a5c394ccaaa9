"""Which of the pinned parts have newer versions at their registries."""

import json
import shutil
import subprocess
import sys
from collections.abc import Iterator

from workshop.places import WEB
from workshop.runtime import pins
from workshop.stopped import Stopped


def outdated() -> int:
    """Print a line for each pinned part that has a newer version; raises Stopped without network."""
    rows = [*_python(), *_npm()]
    for name, ours, newest in sorted(rows):
        print(f"{name}: {ours} here, {newest} at its registry")
    if not rows:
        print("Nothing is outdated.")
    return 0


def _python() -> Iterator[tuple[str, str, str]]:
    asked = subprocess.run(
        [
            sys.executable,
            "-m",
            "pip",
            "list",
            "--outdated",
            "--format",
            "json",
            "--disable-pip-version-check",
        ],
        capture_output=True,
        text=True,
        check=False,
    )
    if asked.returncode != 0:
        raise Stopped(
            "The Python package index did not answer: connect this machine to the network and ask again."
        )
    for row in json.loads(asked.stdout):
        yield row["name"], row["version"], row["latest_version"]


def _npm() -> Iterator[tuple[str, str, str]]:
    wanted = json.loads((WEB / "package.json").read_text())["devDependencies"]
    pinned = {pin.name: pin.version for pin in (pins.PYODIDE, *pins.FACES.values())}
    for name, ours in {**wanted, **pinned}.items():
        asked = subprocess.run(
            [str(shutil.which("npm")), "view", name, "version"], capture_output=True, text=True, check=False
        )
        newest = asked.stdout.strip()
        if asked.returncode != 0 or not newest:
            raise Stopped(
                "The npm registry did not answer: connect this machine to the network and ask again."
            )
        if newest != ours:
            yield name, ours, newest
