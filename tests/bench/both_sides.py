"""Figures side by side: natively, and in the page's Python as the site ships it, under Node.js."""

import json
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from table import Row
from workshop.places import REPOSITORY, SITE
from workshop.runtime.node import in_node

HERE = Path(__file__).parent
FOLDERS = {HERE / "sides": "/bench/sides", REPOSITORY / "tests" / "sheets": "/bench/sheets"}
CODE = """
import dataclasses, importlib, json, sys
sys.path[:0] = {folders}
figures = importlib.import_module({name}).figures()
told = json.dumps([dataclasses.asdict(figure) for figure in figures])
"""


def both_sides(name: str, runtime: Path = SITE / "runtime") -> Iterator[Row]:
    """Yield two rows, native and page, for each figure of the module of this name in `sides`.

    Raises Stopped where the page's Python fails, CalledProcessError where the native one does.
    """
    for here, there in zip(_native(name), _in_page(name, runtime), strict=True):
        for side, figure in (("native", here), ("page", there)):
            case, note = f"{figure['case']}, {side}", figure["note"]
            yield Row(name, case, figure["value"], figure["unit"], figure[side], note=note)


def _native(name: str) -> list[dict]:
    code = CODE.format(folders=[str(folder) for folder in FOLDERS], name=repr(name)) + "print(told)"
    done = subprocess.run([sys.executable, "-c", code], stdout=subprocess.PIPE, text=True, check=True)
    return json.loads(done.stdout.splitlines()[-1])


def _in_page(name: str, runtime: Path) -> list[dict]:
    parts = json.loads((runtime / "parts.json").read_text())["parts"]
    packages = ["peekpaper", *(part["name"] for part in parts if part["when"] == "sheets")]
    code = CODE.format(folders=list(FOLDERS.values()), name=repr(name)) + "told"
    return json.loads(in_node(runtime, code, packages, FOLDERS))
