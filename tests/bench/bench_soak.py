"""An hour's worth of work in one visit: does memory level off?

Each round opens a design, gives papers, plans and takes the sheets; two designs take turns. SOAK_ROUNDS sets
how many rounds there are (200 where it is not set). Memory is read after collection: the page's by the
browser's own tools, Python's in the worker as its WebAssembly memory, and natively the objects that Python
tracks and the bytes that it has allocated through the desk.
"""

import contextlib
import gc
import json
import os
import sys
import tracemalloc
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from playwright.sync_api import CDPSession, Route, expect, sync_playwright
from playwright.sync_api import TimeoutError as PlaywrightTimeout

from peekpaper.desk.desk import Desk
from table import Row

sys.path.append(str(Path(__file__).parents[2]))

from e2e.made_papers import grid_svg
from e2e.panels import window_svg
from e2e.table import PATIENCE_MS, SCREENS, Table

from workshop.browser import ARGUMENTS, browser_path
from workshop.places import REPOSITORY, SITE
from workshop.serve import served

ROUNDS = int(os.environ.get("SOAK_ROUNDS", "200"))
SETTLED = 5
"""From this part of all rounds on, one in five, caches are full and memory should stand still."""

MOST_GROWTH = 0.1
SHORT_MS = 1000
DESIGNS = (("window.svg", window_svg(), 6), ("grid.svg", grid_svg(5, 4), 20))

KEEP_MEMORY = """(() => {
    const memories = new Set();
    for (const name of ["instantiate", "instantiateStreaming"]) {
        const right = WebAssembly[name];
        WebAssembly[name] = async (...how) => {
            const made = await right.apply(WebAssembly, how);
            const found = [(made.instance ?? made).exports?.memory, how[1]?.env?.memory];
            for (const memory of found) if (memory instanceof WebAssembly.Memory) memories.add(memory);
            return made;
        };
    }
    globalThis.takenByPython = () => [...memories].reduce((sum, {buffer}) => sum + buffer.byteLength, 0);
})();"""
"""Runs in the worker before Python is there, and keeps hold of the memory that Python gets."""


def main() -> Iterator[Row]:
    """Yield the figures."""
    yield from _natively()
    yield from _in_the_page()


def _natively() -> Iterator[Row]:
    desk, objects, allocated = Desk(), [], []
    tracemalloc.start()
    for turn in range(ROUNDS):
        name, svg, _ = DESIGNS[turn % len(DESIGNS)]
        _work(desk, name, svg)
        gc.collect()
        objects.append(len(gc.get_objects()))
        allocated.append(tracemalloc.get_traced_memory()[0] / 1e6)
    tracemalloc.stop()
    yield from _rows("the desk, natively: objects", [count / 1000 for count in objects], "thousand")
    yield from _rows("the desk, natively: allocated", allocated, "MB")


def _work(desk: Desk, name: str, svg: str) -> None:
    project = _last(desk, "open", {"name": name, "file": {"buffer": 0}}, svg.encode())["project"]
    numbers = [opening["number"] for opening in _last(desk, "design", {"project": project})["openings"]]
    papers = [paper["id"] for paper in project["shelf"]["papers"]]
    given = {str(number): papers[number % 3] for number in numbers}
    project["colourways"][0]["papers"] = given
    project["plan"]["rounds"] = 1
    for call, more in (("backing", {}), ("plan", {"seconds": 1}), ("sheets", {"choices": {}})):
        _last(desk, call, {"project": project, **more})


def _last(desk: Desk, call: str, arguments: dict[str, Any], *buffers: bytes) -> dict[str, Any]:
    *_, last = desk.steps(call, json.dumps(arguments), buffers)
    if last.kind != "result":
        raise ValueError(last.json)
    return json.loads(last.json)


def _in_the_page() -> Iterator[Row]:
    expect.set_options(timeout=PATIENCE_MS)
    heap, python = [], []
    with served(SITE) as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=browser_path(), args=list(ARGUMENTS))
        table = Table(browser, address, SCREENS["laptop"], REPOSITORY / "build")
        table.context.route("**/desk/worker.js", _with_memory_kept)
        table.page.reload()
        table.wait_until_ready()
        tools = table.context.new_cdp_session(table.page)
        for turn in range(ROUNDS):
            name, svg, count = DESIGNS[turn % len(DESIGNS)]
            _round(table, name, svg, count)
            heap.append(_page_heap(tools) / 1e6)
            python.append(table.page.workers[0].evaluate("takenByPython()") / 1e6)
        table.close()
        browser.close()
    yield from _rows("the page's heap", heap, "MB")
    yield from _rows("Python's memory in the worker", python, "MB")


def _with_memory_kept(route: Route) -> None:
    route.fulfill(content_type="text/javascript", body=f"{KEEP_MEMORY}\n{route.fetch().text()}")


def _round(table: Table, name: str, svg: str, count: int) -> None:
    page = table.page
    table.go("Design")
    table.drop(name, svg)
    expect(table.openings).to_have_count(count)
    table.go("Papers")
    page.locator(".sheet").first.click()
    openings = page.get_by_role("listbox", name="Openings of the design")
    for key in ("Home", "End"):
        openings.press(key)
        openings.press("Enter")
    expect(table.opening(count)).not_to_contain_text("left open")
    table.go("Mats")
    stop = page.get_by_role("button", name="Stop", exact=True)
    expect(stop.or_(page.get_by_text("Done.")).first).to_be_visible()
    # The search may end by itself meanwhile.
    with contextlib.suppress(PlaywrightTimeout):
        stop.click(timeout=SHORT_MS)
    table.go("Glue-up")
    take = page.get_by_role("button", name="Take the sheets")
    expect(take).to_be_enabled()
    take.click()
    expect(page.locator("a.file").first).to_be_visible()


def _page_heap(tools: CDPSession) -> float:
    tools.send("HeapProfiler.collectGarbage")
    return float(tools.send("Runtime.getHeapUsage")["usedSize"])


def _rows(case: str, taken: list[float], unit: str) -> Iterator[Row]:
    settled = taken[len(taken) // SETTLED]
    growth = (max(taken[-2:]) - settled) / settled
    note = f"{len(taken)} rounds; first {taken[0]:.1f}, at a fifth {settled:.1f}, most {max(taken):.1f}"
    yield Row("soak", f"{case}, in the end", taken[-1], unit, note=note)
    yield Row("soak", f"{case}, growth since a fifth", 100 * growth, "%", 100 * MOST_GROWTH)
