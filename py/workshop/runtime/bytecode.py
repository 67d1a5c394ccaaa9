"""Byte code in place of Python source, so that the browser's Python need not compile what it imports.

The interpreter that compiles is the one that runs the code: Pyodide itself, under Node.js.
"""

import shutil
import subprocess
import tempfile
from collections.abc import Mapping
from enum import IntEnum
from pathlib import Path

from workshop.places import cache
from workshop.runtime.pins import CORE_FILES, PYODIDE
from workshop.runtime.store import sha256, write_whole
from workshop.runtime.wheel import unzipped, zip_bytes
from workshop.stopped import Stopped

SCRIPT = Path(__file__).with_name("compile.mjs")
LOCK = "pyodide-lock.json"


class Keeping(IntEnum):
    """What byte code keeps of the source, numbered as `compile` numbers its `optimize`."""

    EVERYTHING = 0
    NEITHER_ASSERTS_NOR_DOCSTRINGS = 2


Files = Mapping[str, bytes]


def compiled(archives: Mapping[str, Files], keeping: Keeping, core: Files) -> dict[str, dict[str, bytes]]:
    """Return the archives (name to files) with each `.py` replaced by a `.pyc` that needs no source.

    `core` holds the files of Pyodide's npm package. Raises Stopped where Node.js can't run the interpreter.
    """
    sources = {
        f"{name}//{path}": data
        for name, files in archives.items()
        for path, data in files.items()
        if path.endswith(".py")
    }
    key = sha256(zip_bytes(sources) + SCRIPT.read_bytes() + PYODIDE.sha256.encode() + bytes([keeping]))
    kept = cache() / "bytecode" / f"{key}.zip"
    if not kept.is_file():
        write_whole(kept, _compile(sources, keeping, core))
    made = unzipped(kept.read_bytes())
    return {
        name: {
            f"{path}c" if path.endswith(".py") else path: made.get(f"{name}//{path}c", data)
            for path, data in files.items()
        }
        for name, files in archives.items()
    }


def _compile(sources: Files, keeping: Keeping, core: Files) -> bytes:
    node = shutil.which("node")
    if node is None:
        raise Stopped(
            "Node.js 20 or newer is needed to build the site: install it and run the same command again."
        )
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        for name in (*CORE_FILES, LOCK):
            (place / name).write_bytes(core[name])
        (place / "in.zip").write_bytes(zip_bytes(sources))
        done = subprocess.run(
            [node, str(SCRIPT), folder, str(place / "in.zip"), str(place / "out.zip"), str(int(keeping))],
            capture_output=True,
            text=True,
            check=False,
        )
        if done.returncode != 0:
            last = (done.stderr.strip().splitlines() or ["no reason given"])[-1]
            raise Stopped(
                f"Node.js could not compile the Python libraries ({last}): install Node.js 20 or newer."
            )
        return (place / "out.zip").read_bytes()
