"""Collections in Chromium: two dozen large pictures coming in, sixty such papers, twenty printed trims."""

import io
import time
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

import numpy as np
from e2e.made_papers import grid_svg
from e2e.panels import window_svg
from e2e.table import SCREENS, Table
from PIL import Image
from playwright.sync_api import Browser, expect, sync_playwright

from kept_pictures import keep_pictures
from main_thread import longest_task, traced
from peekpaper.papers.paper import Colourway, Paper, Shelf
from peekpaper.project.document import new_project, to_json
from table import Row
from workshop.browser import ARGUMENTS, browser_path
from workshop.places import REPOSITORY, SITE
from workshop.site.serve import served

_LARGE, _LARGE_PX = 24, 3600
_REST, _REST_PX = 36, 1200
_PRINTED = 20
_WIDE_MM = 280.0
"""So that a trim is about 60 mm wide."""
_VISITS = 3
_FRAME_MS = 1000 / 60
_STALLS_MS = 50.0
"""A long task by the W3C's Long Tasks API."""


_WATCH_TASKS = """() => {
    window.longTasks = [];
    new PerformanceObserver((seen) => {
        window.longTasks.push(...seen.getEntries().map(({duration}) => duration));
    }).observe({type: 'longtask'});
}"""


def main() -> Iterable[Row]:
    """Yield a row for each figure."""
    with served(SITE) as address, sync_playwright() as playwright:
        expect.set_options(timeout=240_000)
        browser = playwright.chromium.launch(executable_path=browser_path(), args=list(ARGUMENTS))
        table = Table(browser, address, SCREENS["tablet"], REPOSITORY / "build")
        table.page.set_default_timeout(240_000)
        table.wait_until_ready()
        table.drop("window.svg", window_svg())
        expect(table.openings).to_have_count(6)
        table.go("Papers")
        table.page.wait_for_timeout(2000)
        without = _visits(browser, table)
        yield from _coming_in(browser, table)
        _take_in(table, dict(_pictures(_REST, _REST_PX)))
        table.page.wait_for_timeout(3000)
        with_all = _visits(browser, table)
        note = (
            f"{_LARGE + _REST} with photos; median of {_VISITS} visits until 3 s after it is ready, processor"
        )
        yield Row("page", "opening it with 60 papers over with 10", with_all / without, "", 1.1, note=note)
        yield from _scrolling(browser, table)
        yield from _printing(browser, table)
        browser.close()


def _pictures(count: int, px: int) -> Iterator[tuple[str, bytes]]:
    chance = np.random.default_rng(count)
    coarse = Image.fromarray(chance.integers(0, 256, (90, 90, 3), dtype=np.uint8)).resize(
        (px, px), Image.Resampling.BICUBIC
    )
    pattern = np.asarray(coarse)
    for at in range(count):
        file = io.BytesIO()
        shifted = np.roll(pattern, at * 37, axis=0)[..., np.roll([0, 1, 2], at % 3)]
        Image.fromarray(shifted).save(file, "JPEG", quality=90, dpi=(300, 300))
        yield f"sheet {px} {at}.jpg", file.getvalue()


def _take_in(table: Table, files: dict[str, bytes]) -> None:
    table.go("Papers")
    page = table.page
    before = page.locator(".sheets > [data-moves='true']").count()
    table.unfold("More papers")
    with TemporaryDirectory() as folder:
        # As files of the device: what is handed over as bytes the page itself would unpack first.
        paths = [Path(folder) / name for name in files]
        for path in paths:
            path.write_bytes(files[path.name])
        page.locator(".shelf-more input[accept*=zip][multiple]").set_input_files(paths)
        table.press(page.get_by_role("button", name="Put them on the shelf"))
        expect(page.locator(".sheets > [data-moves='true']")).to_have_count(before + len(files))


def _coming_in(browser: Browser, table: Table) -> Iterator[Row]:
    files = dict(_pictures(_LARGE, _LARGE_PX))
    pids = _processes(browser)
    before = {pid: _peak_mb(pid) for pid in pids}
    table.page.evaluate(_WATCH_TASKS)
    _take_in(table, files)
    megabytes = sum(len(data) for data in files.values()) / 1e6
    note = f"{_LARGE} JPEG of {_LARGE_PX} x {_LARGE_PX} px, {megabytes:.0f} MB"
    long = table.page.evaluate("window.longTasks")
    told = f"{note}; {len(long)} over {_STALLS_MS:.0f} ms by the clock"
    yield Row("page", "longest task while they come in", max(long, default=0.0), "ms", _STALLS_MS, note=told)
    grown = max(_peak_mb(pid) - before[pid] for pid in pids)
    yield Row("page", "its process grows by at most", grown, "MB", note=note)


def _visits(browser: Browser, table: Table) -> float:
    """Return the processor seconds of opening the page, of all processes of the browser."""
    spent = []
    for _ in range(_VISITS):
        before = _cpu_seconds(browser)
        table.page.reload()
        table.wait_until_ready()
        table.page.wait_for_timeout(3000)
        spent.append(_cpu_seconds(browser) - before)
    return median(spent)


def _scrolling(browser: Browser, table: Table) -> Iterator[Row]:
    table.go("Papers")
    table.page.wait_for_timeout(1000)
    sheets = table.page.locator(".sheets > [data-moves='true'] button")
    with traced(browser, table.page) as events:
        for at in range(0, _LARGE + _REST, 6):
            sheets.nth(at).scroll_into_view_if_needed()
            table.press(sheets.nth(at))
            table.page.mouse.wheel(0, 240)
            table.wait_for_frames()
    yield Row(
        "page", "longest task while papers are picked and scrolled", longest_task(events), "ms", _FRAME_MS
    )


def _printing(browser: Browser, table: Table) -> Iterator[Row]:
    page = table.page
    keys = [f"print-{at}" for at in range(_PRINTED)]
    keep_pictures(page, keys, _LARGE_PX, 30_000, "image/jpeg")
    papers = tuple(
        Paper(
            f"p{at}", f"Print {at}", "#88aacc", picture=key, picture_width_mm=304.8, original=key,
            sheet_width_mm=215.9, sheet_height_mm=279.4, print_margin_mm=6.35,
        )
        for at, key in enumerate(keys)
    )  # fmt: skip
    given = {number: papers[number - 1].id for number in range(1, _PRINTED + 1)}
    design = new_project("prints.svg", grid_svg(5, _PRINTED // 5))
    project = replace(
        design,
        reading=replace(design.reading, width_mm=_WIDE_MM),
        shelf=Shelf(papers),
        colourways=(Colourway("c1", "First", given),),
        colourway="c1",
    )
    table.drop("prints project.json", to_json(project))
    expect(table.openings).to_have_count(_PRINTED)
    table.go("Mats")
    table.settle_for_first_plan()
    table.go("Glue-up")
    for kind in ("Cut files (SVG)", "Printed templates (PDF)", "Glue-up guide (PDF, PNG, SVG)"):
        page.get_by_label(kind).uncheck()
    take = page.get_by_role("button", name="Take the sheets")
    expect(take).to_be_enabled()
    spent, begun = _cpu_seconds(browser), time.monotonic()
    table.press(take)
    link = page.locator("a.file", has_text="printed trims").first
    expect(link).to_be_visible()
    clock = time.monotonic() - begun
    note = f"{_PRINTED} of as many JPEG of {_LARGE_PX} x {_LARGE_PX} px; by the clock {clock:.1f} s"
    yield Row("page", "printed trims, processor time", _cpu_seconds(browser) - spent, "s", 10.0, note=note)
    size = table.take(link).path().stat().st_size / 1e6
    yield Row("page", "the file of printed trims", size, "MB", 25.0, note=note)


def _processes(browser: Browser) -> list[int]:
    told = browser.new_browser_cdp_session().send("SystemInfo.getProcessInfo")["processInfo"]
    return [one["id"] for one in told if one["type"] == "renderer"]


def _cpu_seconds(browser: Browser) -> float:
    told = browser.new_browser_cdp_session().send("SystemInfo.getProcessInfo")["processInfo"]
    return float(sum(one["cpuTime"] for one in told if one["type"] == "renderer"))


def _peak_mb(pid: int) -> float:
    """Return the most memory a process had so far (Linux, proc(5))."""
    lines = Path(f"/proc/{pid}/status").read_text("ascii").splitlines()
    return next(int(line.split()[1]) / 1000 for line in lines if line.startswith("VmHWM"))
