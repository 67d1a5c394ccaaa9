"""Calls of the page find what they import: what a first visit leaves out is asked for by name."""

import inspect
import re

import pytest

from peekpaper.desk.desk import CALLS
from workshop.places import WEB
from workshop.runtime.own_parts import FOLDERS

_TABLE = re.search(r"const NEEDS = {(.*?)};", (WEB / "desk" / "loading.js").read_text(), re.DOTALL)
ASKED = {
    call: set(re.findall(r"\w+", parts))
    for call, parts in re.findall(r"(\w+): \[(.*?)\]", _TABLE[1] if _TABLE else "")
}


@pytest.mark.parametrize("call", CALLS)
def test_a_call_asks_for_the_parts_that_it_imports(call: str) -> None:
    imported = re.findall(r"from peekpaper\.([\w.]+) import", inspect.getsource(CALLS[call]))
    paths = [f"{module.replace('.', '/')}/" for module in imported]
    parts = {part for part, folders in FOLDERS.items() if any(path.startswith(folders) for path in paths)}
    assert parts <= ASKED.get(call, set())
