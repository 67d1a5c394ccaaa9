"""Which imports of shipped sources need a module of the standard library that the page does not get.

It runs in the browser's Python, whose grammar is newer than that of the Python that runs the tests.
"""

import ast
import zipfile
from collections.abc import Iterable, Iterator
from pathlib import Path


def missing_imports(archives: Path, left_out: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Yield each module (its path) that imports what was left out, as soon as it is imported itself.

    `archives` is a folder of wheels and zips with sources; `left_out` names paths of the library.
    """
    gone = {path.removesuffix(".py").removesuffix("/__init__").replace("/", ".") for path in left_out}
    for archive in archives.iterdir():
        with zipfile.ZipFile(archive) as opened:
            for path in opened.namelist():
                if path.endswith(".py"):
                    names = _imports(opened.read(path), path)
                    yield from ((path, name) for name in names if name in gone)


def _imports(source: bytes, path: str) -> Iterator[str]:
    module = ast.parse(source)
    # Our own imports inside of functions run sooner or later; those of libraries may never.
    for node in ast.walk(module) if path.startswith("peekpaper/") else module.body:
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            above = path.split("/")[: -node.level] if node.level else []
            whole = ".".join([*above, *([node.module] if node.module else [])])
            yield whole
            yield from (f"{whole}.{alias.name}" for alias in node.names)
