"""Modules of the page by themselves, without a browser: run by Node.js."""

import json
import subprocess
from collections.abc import Callable
from typing import Any

import pytest

from workshop.places import WEB

Told = Callable[[str], Any]


@pytest.fixture
def told_by() -> Told:
    """Runs a module of the page's folder, given as text; returns what it tells by `tell(value)`."""

    def run(script: str) -> Any:
        module = f"const tell = (value) => console.log(JSON.stringify(value));\n{script}"
        done = subprocess.run(
            ["node", "--input-type=module", "--eval", module],
            cwd=WEB,
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stderr
        return json.loads(done.stdout.splitlines()[-1])

    return run
