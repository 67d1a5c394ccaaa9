"""An hour's worth of work in one visit: does memory level off?

Each round opens a design, gives papers, plans and takes the sheets; two designs take turns. SOAK_ROUNDS sets
how many rounds there are (200 where it is not set). Memory is read after collection, and the mean of the last
third of all rounds is divided by that of the middle one.

The page's heap by the browser's own tools holds more than the page made: code that the browser compiles as it
warms up, and its notes on layout, paints and requests, which it limits by itself. So what the page itself
holds is taken out of a heap snapshot every tenth round, and its nodes and listeners are counted. Python's
memory in the worker is its WebAssembly memory, which holds also what GEOS and numpy take; it grows by a fifth
at a time and never shrinks, so it is told also up to where it was ever used. Natively these are the objects
and blocks that Python has allocated through the desk.
"""

import gc
import json
import os
import sys
from collections.abc import Iterator
from pathlib import Path
from statistics import mean
from typing import Any

from playwright.sync_api import CDPSession, Route, expect, sync_playwright

from peekpaper.desk.desk import Desk
from table import Row

sys.path.append(str(Path(__file__).parents[2]))

from e2e.made_papers import grid_svg
from e2e.panels import window_svg
from e2e.table import PATIENCE_MS, SCREENS, Table

from workshop.browser import ARGUMENTS, browser_path
from workshop.places import REPOSITORY, SITE
from workshop.site.serve import served

ROUNDS = int(os.environ.get("SOAK_ROUNDS", "200"))
ROUNDS_PER_SNAPSHOT = max(1, min(10, ROUNDS // 3))
MOST_GROWTH = 1.05
"""Of the last third over the middle one: less than what a run differs by from another (from memory)."""

SNAPSHOT_PART = "HeapProfiler.addHeapSnapshotChunk"
NOT_OF_THE_PAGE = {"code", "hidden", "native", "object shape", "synthetic"}
"""Kinds of a heap snapshot's nodes that the browser makes for itself."""

DESIGNS = (("window.svg", window_svg(), 6), ("grid.svg", grid_svg(5, 4), 20))

KEEP_MEMORY = """(() => {
    for (const name of ["instantiate", "instantiateStreaming"]) {
        const right = WebAssembly[name];
        WebAssembly[name] = async (...how) => {
            const made = await right.apply(WebAssembly, how);
            const {memory, sbrk} = (made.instance ?? made).exports ?? {};
            const own = memory ?? how[1]?.env?.memory;
            if (sbrk) globalThis.takenByPython = () => [own.buffer.byteLength, sbrk(0) >>> 0];
            return made;
        };
    }
})();"""
"""Runs in the worker before Python is there; tells how large its memory is, and up to where it was used."""


def main() -> Iterator[Row]:
    """Yield the figures."""
    yield from _natively()
    yield from _in_the_page()


def _natively() -> Iterator[Row]:
    desk, objects, blocks = Desk(), [], []
    for turn in range(ROUNDS):
        name, svg, _ = DESIGNS[turn % len(DESIGNS)]
        _work(desk, name, svg)
        gc.collect()
        objects.append(len(gc.get_objects()) / 1000)
        blocks.append(sys.getallocatedblocks() / 1000)
    yield _row("the desk, natively: objects", objects, "thousand")
    yield _row("the desk, natively: blocks", blocks, "thousand")


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
    heap, own, elements, listeners, python, used = [], [], [], [], [], []
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
            counted = tools.send("Memory.getDOMCounters")
            elements.append(float(counted["nodes"]))
            listeners.append(float(counted["jsEventListeners"]))
            if turn % ROUNDS_PER_SNAPSHOT == ROUNDS_PER_SNAPSHOT - 1:
                own.append(_held_by_the_page(tools) / 1e6)
            taken, top = table.page.workers[0].evaluate("takenByPython()")
            python.append(taken / 1e6)
            used.append(top / 1e6)
        table.close()
        browser.close()
    yield _row("what the page itself holds", own, "MB")
    yield _row("nodes of the page's tree", elements, "")
    yield _row("listeners", listeners, "")
    yield _row("the page's whole heap", heap, "MB")
    yield _row("Python's memory in the worker", python, "MB")
    yield _row("what was ever used of it", used, "MB")


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
    # The search may end by itself meanwhile; its button is hidden then, and pressing it does nothing.
    page.locator("#shelf-room button", has_text="Stop").first.dispatch_event("click")
    table.go("Glue-up")
    take = page.get_by_role("button", name="Take the sheets")
    expect(take).to_be_enabled()
    take.click()
    expect(page.locator("a.file").first).to_be_visible()


def _page_heap(tools: CDPSession) -> float:
    tools.send("HeapProfiler.collectGarbage")
    return float(tools.send("Runtime.getHeapUsage")["usedSize"])


def _held_by_the_page(tools: CDPSession) -> float:
    parts: list[str] = []

    def keep(event: dict[str, str]) -> None:
        parts.append(event["chunk"])

    tools.on(SNAPSHOT_PART, keep)
    tools.send("HeapProfiler.takeHeapSnapshot", {"reportProgress": False})
    tools.remove_listener(SNAPSHOT_PART, keep)
    snapshot = json.loads("".join(parts))
    fields = snapshot["snapshot"]["meta"]["node_fields"]
    kinds = snapshot["snapshot"]["meta"]["node_types"][fields.index("type")]
    kind, size = (snapshot["nodes"][fields.index(name) :: len(fields)] for name in ("type", "self_size"))
    return float(sum(each for at, each in zip(kind, size, strict=True) if kinds[at] not in NOT_OF_THE_PAGE))


def _row(case: str, taken: list[float], unit: str) -> Row:
    third = max(1, len(taken) // 3)
    first, middle, last = mean(taken[:third]), mean(taken[third : 2 * third] or taken), mean(taken[-third:])
    note = f"{ROUNDS} rounds; thirds {first:.2f}, {middle:.2f}, {last:.2f} {unit}".rstrip()
    return Row("soak", f"{case}, last third over middle", last / middle, "x", MOST_GROWTH, note=note)
