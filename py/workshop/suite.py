"""The tests: those of the package under CPython, then those of the built page in a browser."""

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

    `words` go to pytest as they are; without any, all tests run, those of the package and then those of the
    page, side by side on all processors. Raises Stopped where a part is missing.
    """
    build_site(SITE, say)
    environment = {**os.environ, "PEEKPAPER_BROWSER": browser_path()}
    side_by_side = ["--numprocesses", "auto", "--dist", "worksteal"]
    runs = [words] if words else [[*side_by_side, "tests"], [*side_by_side, "e2e"]]
    codes = [
        subprocess.run(
            [sys.executable, "-m", "pytest", *run], cwd=REPOSITORY, env=environment, check=False
        ).returncode
        for run in runs
    ]
    return max(codes)


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
