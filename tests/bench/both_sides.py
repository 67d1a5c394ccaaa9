"""Figures side by side: natively, and in the page's Python as the site ships it, under Node.js."""

import json
import subprocess
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from table import Row
from workshop.places import REPOSITORY, SITE
from workshop.runtime.node import in_node

HERE = Path(__file__).parent
FOLDERS = {HERE / "sides": "/bench/sides", REPOSITORY / "tests" / "sheets": "/bench/sheets"}
SETUP = """
import dataclasses, importlib, json, sys
sys.path[:0] = {folders}
"""
FIGURES = """
figures = importlib.import_module({name}).figures()
told = json.dumps([dataclasses.asdict(figure) for figure in figures])
"""
RUNTIME = SITE / "runtime"


def both_sides(name: str, runtime: Path = RUNTIME) -> Iterator[Row]:
    """Yield two rows, native and page, for each figure of the module of this name in `sides`.

    Raises Stopped where the page's Python fails, CalledProcessError where the native one does.
    """
    code = FIGURES.format(name=repr(name))
    for here, there in zip(natively(code), in_page(code, runtime), strict=True):
        for side, figure in (("native", here), ("page", there)):
            case, note = f"{figure['case']}, {side}", figure["note"]
            yield Row(name, case, figure["value"], figure["unit"], figure[side], note=note)


def natively(code: str) -> list[dict[str, Any]]:
    """Return what code that may import the modules of `sides` leaves in `told`, as JSON, run natively."""
    code = SETUP.format(folders=[str(folder) for folder in FOLDERS]) + code + "print(told)"
    done = subprocess.run([sys.executable, "-c", code], stdout=subprocess.PIPE, text=True, check=True)
    return json.loads(done.stdout.splitlines()[-1])


def in_page(
    code: str, runtime: Path = RUNTIME, mounts: Mapping[Path, str] | None = None
) -> list[dict[str, Any]]:
    """Return the same by the page's Python; `mounts` shows more folders of this machine inside."""
    parts = json.loads((runtime / "parts.json").read_text())["parts"]
    packages = ["peekpaper", *(part["name"] for part in parts if part["when"] == "sheets")]
    code = SETUP.format(folders=list(FOLDERS.values())) + code + "told"
    return json.loads(in_node(runtime, code, packages, {**FOLDERS, **(mounts or {})}))
