"""What every module of the page keeps, so that the page starts in every engine."""

import re

from workshop.places import WEB

WAITS_AT_THE_TOP = re.compile(r"^(?:export )?(?:(?:const|let) [^=\n]+= )?await\b", re.MULTILINE)


def test_no_module_waits_at_its_top():
    """WebKit never runs a module that several others wait for: half of the time the page stayed empty."""
    waiting = [
        path.relative_to(WEB).as_posix()
        for path in WEB.rglob("*.js")
        if "node_modules" not in path.parts and WAITS_AT_THE_TOP.search(path.read_text())
    ]
    assert waiting == []


def test_a_module_that_waits_at_its_top_is_found():
    assert WAITS_AT_THE_TOP.search("import a from './a.js';\nconst words = await fetched();\n")
    assert WAITS_AT_THE_TOP.search("await begin();\n")
    assert not WAITS_AT_THE_TOP.search("async function f() {\n  const a = await g();\n}\n")
