"""Which module of the package may import which: data goes one way, so imports do too.

Each step may import the values of the steps before it, from the one module that holds them; those that string
steps together may import anything that lies before them. Nothing imports in a circle.
"""

import ast
import graphlib
from collections.abc import Iterator
from pathlib import Path

from workshop.places import PACKAGE

# From the first step to the last; a name is a folder of the package or a module at its top. What comes first
# serves all.
ORDER = (
    ("breathing", "message", "units", "words", "refusal", "bounds", "lengths", "pixels", "geometry"),
    ("tracing",),
    ("drawing",),
    ("sources",),
    ("design",),
    ("papers",),
    ("backing",),
    ("plan",),
    ("project",),
    ("demo",),
    ("pipeline",),
    ("gluing",),
    ("preview",),
    ("sheets",),
    ("commands", "desk"),
    ("__main__",),
)
RANK = {name: rank for rank, names in enumerate(ORDER) for name in names}
# The modules of each step that hold the values it hands on.
VALUES = {
    "drawing": ("drawing",),
    "design": ("design", "division.division", "mending.mends", "motifs.motif"),
    "papers": ("paper",),
    "backing": ("backing",),
    "plan": ("plan",),
    "project": ("project",),
    "gluing": ("glue_up",),
}
SEES_EVERYTHING_BEFORE = {"sources", "demo", "pipeline", "sheets", "preview", "commands", "desk", "__main__"}


def complaints(package: Path = PACKAGE) -> list[str]:
    """Return one sentence for each import that breaks the rules, and one for each circle of imports."""
    graph = {module: set(imported(package, path)) for module, path in modules(package).items()}
    found = [
        complaint
        for module, others in sorted(graph.items())
        for other in sorted(others)
        if (complaint := _judge(module, other))
    ]
    return found + _circles(graph)


def modules(package: Path) -> dict[str, Path]:
    """Return the package's modules by their dotted name below it (`design.bars`; itself: `""`)."""
    found = {}
    for path in package.rglob("*.py"):
        parts = path.relative_to(package).with_suffix("").parts
        found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


def imported(package: Path, path: Path) -> Iterator[str]:
    """Yield the package's modules that a file imports, wherever in it the import stands."""
    known = modules(package)
    prefix = f"{package.name}."
    for node in ast.walk(ast.parse(path.read_bytes())):
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.level == 0 and node.module:
            whole = f"{node.module}.".removeprefix(prefix)
            names = [
                f"{node.module}.{alias.name}" if whole + alias.name in known else node.module
                for alias in node.names
            ]
        else:
            continue
        yield from (name.removeprefix(prefix) for name in names if name.startswith(prefix))


def _judge(module: str, other: str) -> str | None:
    step, from_step = module.partition(".")[0], other.partition(".")[0]
    if step in {"", from_step}:
        return None
    for name in (step, from_step):
        if name not in RANK:
            return f"{name} has no place in the order of steps: give it one in workshop/checks/layers.py"
    if RANK[from_step] > RANK[step] or (RANK[from_step] == RANK[step] and RANK[step] > 0):
        return f"{module} imports {other}, which comes after it"
    if RANK[from_step] == 0:
        return None
    values = [f"{from_step}.{name}" for name in VALUES.get(from_step, ())] or [from_step]
    if step not in SEES_EVERYTHING_BEFORE and other not in values:
        return f"{module} imports {other}; of the step {from_step} it may know {' and '.join(values)} alone"
    return None


def _circles(graph: dict[str, set[str]]) -> list[str]:
    try:
        graphlib.TopologicalSorter(graph).prepare()
    except graphlib.CycleError as error:
        return ["imports go in a circle: " + " -> ".join(reversed(error.args[1]))]
    return []
