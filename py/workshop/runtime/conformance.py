"""shapely's own test modules, run in the browser's Python under Node.js."""

import importlib.metadata
import shutil
import tempfile
from pathlib import Path

from workshop.runtime.gather import gather
from workshop.runtime.node import in_node
from workshop.runtime.slim import LIBRARY
from workshop.say import Say
from workshop.site.build import runtime_files

TOOLS = ("iniconfig", "packaging", "pluggy", "pygments", "pytest")

# It needs a library that draws plots.
LEFT_OUT = ("test_plotting.py",)

CODE = """
import os, sys
sys.path.insert(0, "/tools")
sys.dont_write_bytecode = True
import shapely
os.symlink("/tests", os.path.join(os.path.dirname(shapely.__file__), "tests"))
import pytest

class Counts:
    def __init__(self):
        self.told, self.failures = {}, []

    def pytest_runtest_logreport(self, report):
        if report.when == "call" or report.outcome != "passed":
            self.told[report.outcome] = self.told.get(report.outcome, 0) + 1
        if report.outcome == "failed":
            self.failures.append(f"{report.nodeid}: {report.longrepr.reprcrash.message.splitlines()[0]}")

counts = Counts()
os.chdir("/tests")
options = ["-q", "-p", "no:cacheprovider", "-p", "no:faulthandler", "--pyargs", "shapely.tests"]
pytest.main(options, plugins=[counts])
told = [f"{number} {outcome}" for outcome, number in sorted(counts.told.items())]
chr(10).join([*counts.failures, ", ".join(told)])
"""


def conformance(say: Say) -> int:
    """Run the tests that come with this machine's shapely (the same version) and print their counts."""
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        runtime = place / "runtime"
        runtime.mkdir()
        for path, data in runtime_files(say).items():
            if path.startswith("runtime/"):
                (runtime / Path(path).name).write_bytes(data)
        # pytest needs modules of the standard library that a page does not get.
        (place / LIBRARY).write_bytes(gather(say).core[LIBRARY])
        for name in TOOLS:
            _copy(name, place / "tools")
        _copy("shapely", place / "shapely", only="shapely/tests/")
        for name in LEFT_OUT:
            (place / "shapely" / "shapely" / "tests" / name).unlink()
        say("Running shapely's own tests in the browser's Python (about a minute) ...")
        mounts = {place / "tools": "/tools", place / "shapely" / "shapely" / "tests": "/tests"}
        say(in_node(runtime, CODE, ["shapely"], mounts, library=place / LIBRARY))
    return 0


def _copy(name: str, target: Path, only: str = "") -> None:
    for file in importlib.metadata.files(name) or []:
        if str(file).startswith(only) and ".." not in file.parts and "__pycache__" not in file.parts:
            (target / file).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(file.locate(), target / file)
