"""Modules of the page by themselves, without a browser: run by Node.js."""

import json
import subprocess
from collections.abc import Callable
from typing import Any
from urllib.parse import quote

import pytest

from workshop.places import PACKAGE, WEB

Told = Callable[[str], Any]

# As much of a browser as the modules ask for while they load, with the English words.
BROWSER = f"""
import {{ readFileSync }} from "node:fs";
const english = readFileSync({json.dumps(str(PACKAGE / "words" / "en.json"))}, "utf8");
globalThis.navigator ??= {{ languages: ["en"] }};
globalThis.localStorage ??= {{ getItem: () => null }};
globalThis.document = {{ documentElement: {{}}, querySelector: () => null }};
globalThis.fetch = async () => ({{ ok: true, json: async () => JSON.parse(english) }});
globalThis.tell = (value) => console.log(JSON.stringify(value));
"""


@pytest.fixture
def told_by() -> Told:
    """Runs a module of the page's folder, given as text; returns what it tells by `tell(value)`."""

    def run(script: str) -> Any:
        done = subprocess.run(
            [
                "node",
                f"--import=data:text/javascript,{quote(BROWSER)}",
                "--input-type=module",
                "--eval",
                script,
            ],
            cwd=WEB,
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stderr
        return json.loads(done.stdout.splitlines()[-1])

    return run
