"""The tests: those of the package under CPython, and those of the built page in a browser."""

import os
import subprocess
import sys
from pathlib import Path

from workshop.browser import browser_path
from workshop.places import REPOSITORY, SITE
from workshop.say import Say
from workshop.site.build import build_site


def test(words: list[str], say: Say) -> int:
    """Build the site, see that a browser is there, and run pytest; returns pytest's exit code.

    `words` go to pytest as they are; without any, all tests run. Tests of the page wait for their browser
    about a third of the time: one process more than there are processors fills that, with tests of the
    package while there are any. Raises Stopped where a part is missing.
    """
    build_site(SITE, say)
    side_by_side = ["--numprocesses", str((os.cpu_count() or 1) + 1), "--dist", "worksteal", "e2e", "tests"]
    return subprocess.run(
        [sys.executable, "-m", "pytest", *(words or side_by_side)],
        cwd=REPOSITORY,
        env={**os.environ, "PEEKPAPER_BROWSER": browser_path()},
        check=False,
    ).returncode


def fuzz(inputs: int) -> int:
    """Try at least so many spoilt inputs on all that reads something; returns pytest's exit code.

    The inputs follow from fixed seeds, so what fails once fails again.
    """
    return subprocess.run(
        [sys.executable, "-m", "pytest", "--tb=line", str(Path("tests") / "fuzz")],
        cwd=REPOSITORY,
        env={**os.environ, "FUZZ_INPUTS": str(inputs)},
        check=False,
    ).returncode
