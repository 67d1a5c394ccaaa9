"""How quickly the page answers hands, in Chromium: taps on a slowed processor, and moving about."""

import json
from collections.abc import Iterable, Sequence
from dataclasses import replace

from e2e.made_papers import grid_svg
from e2e.table import SCREENS, Table
from playwright.sync_api import Browser, Page, sync_playwright

from kept_pictures import keep_pictures
from main_thread import Event, longest_task, traced, work_until_shown
from peekpaper.papers.paper import Colourway, Paper, Shelf
from peekpaper.project.document import new_project, to_json
from table import Row
from workshop.browser import ARGUMENTS, browser_path
from workshop.places import REPOSITORY, SITE
from workshop.site.serve import served

_SLOWED = 4
_TAPS = 40
_APART_PX = 41
_LEAST_TOLD_MS = 16
_MOST_MS = 50.0
_PICTURES = ("shells", "ropes", "kelp")

_WATCH_TAPS = """(least) => {
    window.shown = [];
    new PerformanceObserver((seen) => {
        const taps = seen.getEntriesByName('pointerup');
        window.shown.push(...taps.map(({duration}) => duration));
    }).observe({type: 'event', durationThreshold: least});
}"""
"""Notes how long after each tap the frame that follows it was on the screen, by the browser's own account.

That is the W3C's Event Timing API, which tells ms in steps of 8 and nothing of what took less than 16.
"""

_WATCH_FRAMES = """() => {
    window.frames = [];
    let last = performance.now();
    const note = (now) => {
        window.frames.push(now - last);
        last = now;
        requestAnimationFrame(note);
    };
    requestAnimationFrame(note);
}"""


def main() -> Iterable[Row]:
    """Yield a row for each figure."""
    with served(SITE) as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=browser_path(), args=list(ARGUMENTS))
        for screen in ("tablet", "laptop"):
            table = Table(browser, address, SCREENS[screen], REPOSITORY / "build")
            table.wait_until_ready()
            yield from _taps(browser, table)
        yield from _moves(browser, table)
        browser.close()


def _taps(browser: Browser, table: Table) -> Iterable[Row]:
    page = table.page
    table.drop("grid.svg", grid_svg(25, 20))
    page.locator("#opening-500").wait_for(state="attached")
    table.go("Papers")
    if table.screen.touch:
        # Closer, else a finger that comes between openings gets the loupe first.
        table.press(page.get_by_role("button", name="Closer"))
    page.wait_for_timeout(2500)
    page.evaluate(_WATCH_TAPS, _LEAST_TOLD_MS)
    slowing = table.context.new_cdp_session(page)
    slowing.send("Emulation.setCPUThrottlingRate", {"rate": _SLOWED})
    x, y = _middle(page)
    with traced(browser, page) as events:
        for tap in range(_TAPS):
            row, column = divmod(tap, 8)
            table.tap_at(x - 150 + _APART_PX * column, y - 100 + _APART_PX * row)
            page.wait_for_timeout(500)
    slowing.send("Emulation.setCPUThrottlingRate", {"rate": 1})
    told = page.evaluate("window.shown")
    shown = sorted([*told, *[float(_LEAST_TOLD_MS)] * (_TAPS - len(told))])
    hand = "by touch" if table.screen.touch else "by mouse"
    case = f"tap on one of 500 openings {hand}, until it is on the screen"
    note = f"of {_TAPS} taps, processor slowed {_SLOWED} times; event timing"
    yield Row("page", f"{case}: median", shown[len(shown) // 2], "ms", _MOST_MS, note=note)
    yield Row("page", f"{case}: nine of ten", shown[len(shown) * 9 // 10], "ms", _MOST_MS, note=note)
    yield Row("page", f"{case}: worst", shown[-1], "ms", _MOST_MS, note=note)
    works = sorted(work_until_shown(events, "pointerup"))
    note = f"processor time of {len(works)} taps on the page's own thread, slowed {_SLOWED} times"
    case = f"work of the page for such a tap {hand}"
    yield Row("page", f"{case}: median", works[len(works) // 2], "ms", _MOST_MS, note=note)
    yield Row("page", f"{case}: worst", works[-1], "ms", _MOST_MS, note=note)


def _moves(browser: Browser, table: Table) -> Iterable[Row]:
    page = table.page
    keep_pictures(page, _PICTURES, 1800, 4000, "image/webp")
    papers = tuple(
        Paper(f"p{at}", name, "#88aacc", picture=name, picture_width_mm=304.8)
        for at, name in enumerate(_PICTURES, 1)
    )
    given = {number: papers[number % len(papers)].id for number in range(1, 1001)}
    project = replace(
        new_project("grid.svg", grid_svg(40, 25)),
        shelf=Shelf(papers),
        colourways=(Colourway("c1", "First", given),),
        colourway="c1",
    )
    table.drop("grid project.json", json.dumps(json.loads(to_json(project))))
    page.locator("#opening-1000").wait_for(state="attached")
    page.wait_for_timeout(4000)
    x, y = _middle(page)
    page.evaluate(_WATCH_FRAMES)
    page.mouse.move(x, y)
    with traced(browser, page) as events:
        page.mouse.down()
        for step in range(40):
            page.mouse.move(x + 3 * step, y + 2 * step)
            page.wait_for_timeout(16)
        page.mouse.up()
    yield _work("moving the view", events)
    yield _frames(page, "moving the view over 1,000 openings with pictures")
    page.wait_for_timeout(1500)
    page.evaluate("window.frames.length = 0")
    with traced(browser, page) as events:
        for step in range(40):
            page.mouse.wheel(0, -40 if step < 20 else 40)
            page.wait_for_timeout(16)
    yield _work("looking closer and farther", events)
    yield _frames(page, "looking closer and farther, the same")
    page.wait_for_timeout(1500)
    page.evaluate("window.frames.length = 0")
    with traced(browser, page) as events:
        _pinch(table, x, y)
    yield _work("pinching", events)
    yield _frames(page, "pinching, the same")


def _pinch(table: Table, x: float, y: float) -> None:
    """Draw two fingers apart and together about a spot."""
    hand = table.context.new_cdp_session(table.page)

    def touch(kind: str, apart: float) -> None:
        touches = [{"x": x - apart, "y": y, "id": 0}, {"x": x + apart, "y": y, "id": 1}]
        hand.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": touches})

    touch("touchStart", 40)
    for step in range(40):
        touch("touchMove", 40 + 4 * min(step, 40 - step))
        table.page.wait_for_timeout(16)
    hand.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


def _work(case: str, events: Sequence[Event]) -> Row:
    note = "processor time of the longest task on the page's own thread"
    return Row("page", f"work of the page while {case}", longest_task(events), "ms", _MOST_MS, note=note)


def _frames(page: Page, case: str) -> Row:
    frames = sorted(page.evaluate("window.frames"))
    late = sum(frame > _MOST_MS for frame in frames)
    middle = frames[len(frames) // 2]
    note = f"longest of {len(frames)} frames; {late} over {_MOST_MS:.0f} ms, median {middle:.0f} ms"
    return Row("page", case, frames[-1], "ms", _MOST_MS, note=note)


def _middle(page: Page) -> tuple[float, float]:
    box = page.locator("#stage").bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2 - 60, box["y"] + box["height"] / 2 - 60
