"""Each figure that a room of the package is built on says what it stands for, below it or beside it."""

import ast
from collections.abc import Iterator
from itertools import zip_longest
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "py" / "peekpaper"


def unexplained(code: str) -> Iterator[str]:
    lines, statements = code.splitlines(), ast.parse(code).body
    for statement, after in zip_longest(statements, statements[1:]):
        if not isinstance(statement, ast.Assign | ast.AnnAssign) or statement.value is None:
            continue
        targets = statement.targets if isinstance(statement, ast.Assign) else [statement.target]
        names = [part.id for target in targets for part in ast.walk(target) if isinstance(part, ast.Name)]
        if not all(name.isupper() for name in names) or not is_figure(statement.value):
            continue
        told = isinstance(after, ast.Expr) and isinstance(after.value, ast.Constant)
        above = lines[statement.lineno - 2] if statement.lineno > 1 else ""
        if not (told or above.startswith("#") or " # " in lines[statement.lineno - 1]):
            yield ", ".join(names)


def is_figure(value: ast.expr) -> bool:
    parts = [part.value for part in ast.walk(value) if isinstance(part, ast.Constant)]
    return any(isinstance(part, int | float) and not isinstance(part, bool) for part in parts)


@pytest.mark.parametrize("room", ["tracing", "design", "geometry", "plan", "backing", "gluing", "sheets"])
def test_each_figure_says_what_it_stands_for(room: str) -> None:
    for path in sorted((PACKAGE / room).rglob("*.py")):
        assert not list(unexplained(path.read_text())), path


def test_a_figure_without_a_word_is_found() -> None:
    explained = (
        '_FEWEST = 24\n"""So many at least."""\n_KINDS = ("a", "b")\n# Both are in mm.\n_A, _B = 1, 2\n'
    )
    assert list(unexplained("_STEP_MM = 1.5\n" + explained)) == ["_STEP_MM"]
