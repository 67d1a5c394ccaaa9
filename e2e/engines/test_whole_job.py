"""The main job in further engines, from a plain host: files are made, also without a connection."""

import base64
import io
import time
import zipfile
from collections.abc import Callable, Iterator
from xml.etree import ElementTree

import pytest

from e2e.engines.engine import Engine
from e2e.engines.gecko import Gecko
from e2e.engines.webkit import WebKit
from e2e.own_site import OwnSite
from e2e.panels import HEIGHT_MM, WIDTH_MM, window_svg
from peekpaper.lengths import parse_length

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
FILES = "return [...document.querySelectorAll('a.file')].map((each) => each.download)"
FOCUS = "document.querySelector('.openings').focus()"
IS_THERE = "return document.querySelector(arguments[0]) !== null"
# What a link saves is kept aside while it is made: a driver has no hand for the browser's own dialog.
KEEP_FILES = """
    window.made = new Map();
    const make = URL.createObjectURL;
    URL.createObjectURL = (blob) => {
        const url = make.call(URL, blob);
        window.made.set(url, blob);
        return url;
    };
"""
READ_FILE = """
    const [name, done] = arguments;
    const link = [...document.querySelectorAll("a.file")].find((each) => each.download.endsWith(name));
    const reader = new FileReader();
    reader.onload = () => done(reader.result.split(",")[1]);
    reader.readAsDataURL(window.made.get(link.href));
"""
KEPT = "return Boolean(navigator.serviceWorker?.controller)"


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


def backed(engine: Engine) -> list[str]:
    """Return what is told of the openings that have a paper."""
    return [each for each in engine.run(OPENINGS) if "left open" not in each]


def give(engine: Engine, keys: tuple[str, ...]) -> None:
    """Give openings the first paper by keys."""
    press(engine, "[data-place=papers]")
    press(engine, ".sheet")
    engine.run(FOCUS)
    for key in keys:
        engine.key(key)


def taken(engine: Engine, name: str) -> bytes:
    """Return the file that a link with such a name would save."""
    return base64.b64decode(engine.ask(READ_FILE, name))


def test_the_whole_job_in_every_engine(engine: Engine, own_site: OwnSite) -> None:
    own_site.compresses = False
    engine.go(own_site.address)
    wait_for("the demo", lambda: len(engine.run(OPENINGS)) >= 60)
    wait_for("Python", lambda: engine.run(LOADED))
    came = {path for path in own_site.sent if "/runtime/pyodide.asm.wasm" in path}
    assert came == {f"/runtime/pyodide.asm.wasm{engine.unpacks}"}

    engine.run(DROP, window_svg())
    wait_for("the design's six openings", lambda: len(engine.run(OPENINGS)) == 6)
    assert backed(engine) == []
    give(engine, (ENTER, RIGHT, ENTER))
    wait_for("two openings that have a paper", lambda: len(backed(engine)) == 2)
    press(engine, "[data-place=mats]")
    wait_for("the mats", lambda: engine.run(IS_THERE, ".trim-row"))
    press(engine, "[data-place=glue-up]")
    engine.run(KEEP_FILES)
    press(engine, "#shelf-foot .button-main, #shelf .button-main")
    wait_for("the sheets", lambda: any("mat 1.svg" in each for each in engine.run(FILES)))
    card = ElementTree.fromstring(taken(engine, "card.svg"))
    assert (parse_length(card.attrib["width"]), parse_length(card.attrib["height"])) == pytest.approx(
        (WIDTH_MM, HEIGHT_MM), abs=0.02
    )
    archive = zipfile.ZipFile(io.BytesIO(taken(engine, ".zip")))
    assert archive.testzip() is None
    assert any(name.endswith("mat 1.svg") for name in archive.namelist())
    # WebKit drives a private window, which keeps no pictures; the page says so.
    assert [each for each in engine.run(NOTICES) if not each.startswith(PRIVATE)] == []

    given = backed(engine)
    wait_for("the site on the device", lambda: engine.run(KEPT))
    own_site.switch_off()
    engine.go(own_site.address)
    wait_for("what was given, without a connection", lambda: backed(engine) == given)
    wait_for("Python, without a connection", lambda: engine.run(LOADED))
    give(engine, (RIGHT, RIGHT, ENTER))
    wait_for("a third opening that has a paper", lambda: len(backed(engine)) == 3)
    press(engine, "[data-place=mats]")
    wait_for("the mats, without a connection", lambda: engine.run(IS_THERE, ".trim-row"))
