"""The smoke path in further engines: the demo comes up, a dropped design becomes sheets, nothing breaks."""

import time
from collections.abc import Callable, Iterator

import pytest

from e2e.engines.engine import Engine
from e2e.engines.gecko import Gecko
from e2e.engines.webkit import WebKit
from e2e.panels import window_svg

PATIENCE_S = 90
PRIVATE = "This browser keeps nothing (private window"
ENTER = "\ue007"
RIGHT = "\ue014"

DROP = """
    const data = new DataTransfer();
    data.items.add(new File([arguments[0]], "window.svg", {type: "image/svg+xml"}));
    const drop = new DragEvent("drop", {dataTransfer: data, bubbles: true, cancelable: true});
    document.querySelector("#stage").dispatchEvent(drop);
"""
OPENINGS = "return [...document.querySelectorAll('.openings [role=option]')].map((each) => each.textContent)"
LOADED = "return document.querySelectorAll('#loading > *').length === 0"
NOTICES = "return [...document.querySelectorAll('.notice p')].map((each) => each.textContent)"
FILES = "return [...document.querySelectorAll('a.file')].map((each) => each.textContent)"
FOCUS = "document.querySelector('.openings').focus()"
IS_THERE = "return document.querySelector(arguments[0]) !== null"


@pytest.fixture(params=[Gecko, WebKit], ids=lambda engine: engine.name)
def engine(request: pytest.FixtureRequest) -> Iterator[Engine]:
    driven: Engine = request.param()
    yield driven
    driven.close()


def wait_for(what: str, is_so: Callable[[], object]) -> None:
    """Ask until something is so; fails with what was waited for."""
    deadline = time.monotonic() + PATIENCE_S
    while not is_so():
        assert time.monotonic() < deadline, f"still waiting for {what}"
        time.sleep(0.1)


def press(engine: Engine, selector: str) -> None:
    """Press what a selector finds, once it is there."""
    wait_for(selector, lambda: engine.run(IS_THERE, selector))
    engine.press(selector)


def test_a_design_becomes_sheets_in_every_engine(engine: Engine, site: str) -> None:
    engine.go(site)
    wait_for("the demo", lambda: len(engine.run(OPENINGS)) >= 60)
    wait_for("Python", lambda: engine.run(LOADED))

    engine.run(DROP, window_svg())
    wait_for("the design's six openings", lambda: len(engine.run(OPENINGS)) == 6)
    assert all("left open" in each for each in engine.run(OPENINGS))

    press(engine, "[data-place=papers]")
    press(engine, ".sheet")
    engine.run(FOCUS)
    for key in (ENTER, RIGHT, ENTER):
        engine.key(key)
    wait_for(
        "two openings that have a paper",
        lambda: sum("left open" not in each for each in engine.run(OPENINGS)) == 2,
    )

    press(engine, "[data-place=mats]")
    wait_for("the mats", lambda: engine.run(IS_THERE, ".trim-row"))
    press(engine, "[data-place=glue-up]")
    press(engine, "#shelf-foot .button-main, #shelf .button-main")
    wait_for("the sheets", lambda: any("mat 1.svg" in each for each in engine.run(FILES)))
    # WebKit drives a private window, which keeps no pictures; the page says so.
    assert [each for each in engine.run(NOTICES) if not each.startswith(PRIVATE)] == []
