"""Packing in the page by two workers against one, in Chromium: paper, memory, how soon a lip shows."""

import statistics
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from e2e.table import SCREENS, Table, wait_until
from playwright.sync_api import Browser, expect, sync_playwright

from table import Row
from workshop.browser import ARGUMENTS, browser_path
from workshop.places import REPOSITORY, SITE
from workshop.site.serve import served

_SOON_S, _SEARCH_S, _LATE_S = 5, 10, 20
_STARTED_MS = 6000
_PATIENCE_MS = 120_000
_LIPS_MM = (2.9, 3.1, 2.8, 3.2, 2.7, 3.3, 2.6, 3.4)

_WATCH_BACKINGS = """window.shown = [];
window.Worker = class extends window.Worker {
    asked = new Map();
    constructor(...told) {
        super(...told);
        this.addEventListener("message", ({ data: { id, kind } }) => {
            if (!this.asked.has(id) || !["progress", "result"].includes(kind)) return;
            window.shown.push(performance.now() - this.asked.get(id));
            this.asked.delete(id);
        });
    }
    postMessage(told, ...more) {
        if (told.call === "backing") this.asked.set(told.id, performance.now());
        super.postMessage(told, ...more);
    }
};"""
"""Notes how long after each question for a backing what can be seen of it was there."""


@dataclass(frozen=True, slots=True)
class _Side:
    paper_used: float
    memory_mb: float
    lip_ratio: float


def main() -> Iterator[Row]:
    """Yield a row for each figure."""
    expect.set_options(timeout=_PATIENCE_MS)
    sides = {}
    with served(SITE) as address, sync_playwright() as playwright:
        for cores, seconds in ((1, _LATE_S), (2, _SOON_S)):
            browser = playwright.chromium.launch(executable_path=browser_path(), args=list(ARGUMENTS))
            table = _visit(browser, address, cores)
            used = _paper_used(table, seconds)
            sides[cores] = _Side(used, _memory_mb(browser), statistics.median(_lips(table)))
            browser.close()
    one, two = sides[1], sides[2]
    note = f"the demo after {_SOON_S} s of two packers against {_LATE_S} s of one worker"
    yield Row("packing", "paper used", two.paper_used / one.paper_used, "x", 1.0, note=note)
    note = f"of the page's process; {one.memory_mb:.0f} MB with one worker, once mats were laid out"
    yield Row("packing", "memory with two packers", two.memory_mb / one.memory_mb, "x", note=note)
    yield Row("packing", "memory of a packer", (two.memory_mb - one.memory_mb) / 2, "MB", note=note)
    for name, side in (("one worker", one), ("two packers", two)):
        case = f"a changed lip shows while a plan is sought, against at rest: {name}"
        yield Row("packing", case, side.lip_ratio, "x", 1.3, note=f"median of {len(_LIPS_MM) // 2} pairs")


def _visit(browser: Browser, address: str, cores: int) -> Table:
    table = Table(browser, address, SCREENS["laptop"], REPOSITORY / "build")
    table.context.add_init_script(_WATCH_BACKINGS)
    table.come_again_with_cores(cores)
    return table


def _paper_used(table: Table, seconds: int) -> float:
    """Return the figure that the mats tell of their paper so long after the place was entered."""
    table.go("Papers")
    table.page.wait_for_timeout(_STARTED_MS)
    table.go("Mats")
    figure = table.page.locator(".figures").get_by_text("Paper used").locator("xpath=following-sibling::*")
    if seconds > _SEARCH_S:
        expect(table.page.get_by_text("Done.")).to_be_visible()
        table.press(table.page.get_by_role("button", name="Look longer"))
        table.page.wait_for_timeout((seconds - _SEARCH_S) * 1000)
    else:
        table.page.wait_for_timeout(seconds * 1000)
    return float(figure.inner_text().split()[0].replace(",", ""))


def _lips(table: Table) -> Iterator[float]:
    """Yield how much longer a changed lip takes to show while a plan is sought, each beside one at rest."""
    page = table.page
    lip = page.locator("details[open] input[type=text]").first
    for at_rest, meanwhile in zip(_LIPS_MM[::2], _LIPS_MM[1::2], strict=True):
        times = []
        for millimetres in (at_rest, meanwhile):
            if millimetres == meanwhile:
                table.go("Mats")
                expect(page.get_by_role("button", name="Stop", exact=True)).to_be_visible()
                page.wait_for_timeout(1500)
            table.go("Design")
            table.unfold("Finer settings")
            table.unfold("Lip for the glue")
            page.evaluate("window.shown.length = 0")
            lip.fill(f"{millimetres} mm")
            lip.press("Enter")
            wait_until(page, "() => window.shown.length > 0")
            times.append(page.evaluate("window.shown[0]"))
            page.wait_for_timeout(2000)
        yield times[1] / times[0]


def _memory_mb(browser: Browser) -> float:
    """Return what the browser's page processes hold, of shared memory their share (Linux)."""
    told = browser.new_browser_cdp_session().send("SystemInfo.getProcessInfo")["processInfo"]
    held = 0
    for process in told:
        if process["type"] == "renderer":
            rows = Path(f"/proc/{process['id']}/smaps_rollup").read_text().splitlines()
            held += next(int(row.split()[1]) for row in rows if row.startswith("Pss:"))
    return held * 1024 / 1e6
