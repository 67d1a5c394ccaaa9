"""The longest tasks on the page's main thread while the whole job is done on the demo, in Chromium.

The bound of 200 ms is the project's own. A task's time on the clock grows with whatever else the machine
does, its processor time hardly.
"""

import json
import os
from collections.abc import Callable, Iterable

from e2e.table import SCREENS, Table
from playwright.sync_api import Browser, expect, sync_playwright

from table import Row
from workshop.browser import ARGUMENTS, browser_path
from workshop.places import REPOSITORY, SITE
from workshop.site.serve import served

_MOST_MS = 200.0
_LONG_MS = 50.0
_PLAN_PATIENCE_MS = 120_000


def main() -> Iterable[Row]:
    """Yield the longest task of each step of the job, and of all."""
    expect.set_options(timeout=_PLAN_PATIENCE_MS)
    with served(SITE) as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=browser_path(), args=list(ARGUMENTS))
        for screen in ("tablet", "laptop"):
            yield from _job(browser, address, screen)
        browser.close()


def _job(browser: Browser, address: str, screen: str) -> Iterable[Row]:
    opened: list[Table] = []

    def open_page() -> None:
        opened.append(Table(browser, address, SCREENS[screen], REPOSITORY / "build"))
        opened[0].wait_until_ready()

    steps: dict[str, Callable[[], None]] = {
        "opening the page": open_page,
        "another width": lambda: _resize(opened[0]),
        "giving and suggesting papers": lambda: _papers(opened[0]),
        "colourways and page": lambda: _looks(opened[0]),
        "laying out mats": lambda: _mats(opened[0]),
        "taking the sheets": lambda: _sheets(opened[0]),
        "gluing up": lambda: _glue(opened[0]),
    }
    whole: list[tuple[float, float]] = []
    for name, step in steps.items():
        tasks = _tasks(browser, step)
        whole += tasks
        yield _row(f"{screen}: {name}", tasks)
    yield _row(f"{screen}: the whole job", whole)
    opened[0].close()


def _row(case: str, tasks: list[tuple[float, float]]) -> Row:
    clock = [clock for clock, _ in tasks]
    processor = max(processor for _, processor in tasks)
    long = sum(each > _LONG_MS for each in clock)
    load = os.getloadavg()[0]
    note = f"{long} over {_LONG_MS:.0f} ms; processor time at most {processor:.0f} ms; load {load:.1f}"
    return Row("job", case, max(clock), "ms", _MOST_MS, note=note)


def _tasks(browser: Browser, step: Callable[[], None]) -> list[tuple[float, float]]:
    """Return the time on the clock and on the processor of each task of the page's main thread, in ms."""
    browser.start_tracing(categories=["toplevel"])
    step()
    events = json.loads(browser.stop_tracing())["traceEvents"]
    main_threads = {
        (event["pid"], event["tid"])
        for event in events
        if event["name"] == "thread_name" and event["args"]["name"] == "CrRendererMain"
    }
    return [
        (event["dur"] / 1000, event.get("tdur", 0) / 1000)
        for event in events
        if event["name"].endswith("RunTask")
        and event["ph"] == "X"
        and (event["pid"], event["tid"]) in main_threads
    ]


def _resize(table: Table) -> None:
    width = table.page.get_by_role("textbox", name="Width", exact=True)
    width.fill("9 in")
    width.press("Enter")
    expect(table.page.get_by_role("textbox", name="Height", exact=True)).not_to_have_value("10 in")


def _papers(table: Table) -> None:
    page = table.page
    table.go("Papers")
    table.press(page.locator(".sheet").nth(2))
    left, top, wide, high = table.box(page.locator("#stage"))
    page.mouse.move(left + wide / 2, top + high * 0.7)
    page.mouse.down()
    for step in range(20):
        page.mouse.move(left + wide / 2 + 5 * step, top + high * 0.7)
    page.mouse.up()
    table.press(page.get_by_role("button", name="Undo"))
    table.press(page.get_by_role("tab", name="Suggest"))
    table.press(page.get_by_role("tabpanel").get_by_role("button", name="Suggest", exact=True))
    expect(page.locator(".reasons li").first).to_be_visible()


def _looks(table: Table) -> None:
    page = table.page
    table.press(page.get_by_role("tab", name="Colourways"))
    table.press(page.get_by_role("tab", name="Page"))
    expect(page.get_by_role("tab", name="Page")).to_have_attribute("aria-selected", "true")


def _mats(table: Table) -> None:
    table.go("Mats")
    expect(table.page.get_by_text("Done.")).to_be_visible()
    left, top, wide, high = table.box(table.page.locator("#stage"))
    table.tap_at(left + wide / 2, top + high / 2)


def _sheets(table: Table) -> None:
    table.go("Glue-up")
    table.press(table.page.get_by_role("button", name="Take the sheets"))
    table.take(table.page.locator("a.file", has_text="zip").first)


def _glue(table: Table) -> None:
    table.press(table.page.get_by_role("tab", name="Glue, step by step"))
    for _ in range(3):
        table.press(table.page.get_by_role("button", name="Glued"))
