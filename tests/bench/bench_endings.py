"""A job that ends at any moment, opened again: all that stood for a second must be there.

Each run drives a job in the page at random (papers given and taken back, openings locked, steps undone and
done again, plans sought, sheets taken, pieces ticked, designs brought in), ends it in one of several ways,
opens the page anew and compares the document and its undo history with those before. ENDINGS_RUNS sets how
many runs there are (500 where it is not set), each way in its turn; ENDINGS_SEED sets what is done in them,
ENDINGS_ONLY is a part of the names of those ways that are to be tried alone.
"""

import json
import os
import random
import signal
import socket
import subprocess
import sys
import tempfile
import threading
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from playwright.sync_api import (
    Browser,
    BrowserContext,
    ConsoleMessage,
    Error,
    Page,
    Playwright,
    sync_playwright,
)

from table import Row

sys.path.append(str(Path(__file__).parents[2]))

from e2e.panels import window_svg

from workshop.browser import ARGUMENTS, browser_path
from workshop.places import SITE
from workshop.site.serve import served

RUNS = int(os.environ.get("ENDINGS_RUNS", "500"))
SEED = int(os.environ.get("ENDINGS_SEED", "1"))
STANDS_S = 1.0
"""What was on the screen for so long must be there again."""
PATIENCE_MS = 60_000
MOST_PER_RUN_S = 180
"""A run that takes longer is broken off, and told."""
TELLS = "course now: "
BROKEN_OFF = "broken off"

WATCH = f"""(() => {{
    const brief = ({{ source, ...decisions }}) => ({{ ...decisions, source: source.svg.length }});
    window.told = () => {{
        const {{ document, past, future }} = window.course;
        return JSON.stringify([document, past.at(-1), past.length, future.length].map((each) =>
            each?.source ? brief(each) : each));
    }};
    const dispatch = EventTarget.prototype.dispatchEvent;
    EventTarget.prototype.dispatchEvent = function (event) {{
        if (event.type === "change" && this.course) {{
            window.course = this.course;
            console.debug({json.dumps(TELLS)} + Date.now() + " " + window.told());
        }}
        return dispatch.call(this, event);
    }};
    window.connections = [];
    const open = IDBFactory.prototype.open;
    IDBFactory.prototype.open = function (...what) {{
        const asked = open.apply(this, what);
        asked.addEventListener("success", () => window.connections.push(asked.result));
        return asked;
    }};
    const put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = function (...what) {{
        if (window.storageIsFull) throw new DOMException("no room", "QuotaExceededError");
        return put.apply(this, what);
    }};
}})();"""
"""Tells each state of the open project as it comes; lets a run close the page's connections to its database
under it, and fill its storage."""

SHOWN = """() => {
    const options = [...document.querySelectorAll("[id^=opening-]")];
    const { colourways, colourway } = window.course.document;
    const papers = colourways.find(({ id }) => id === colourway).papers;
    return options.length > 0 && options.every((each) => {
        const isOpen = papers[each.id.slice("opening-".length)] === undefined;
        return isOpen === each.textContent.includes("left open");
    });
}"""
"""Whether the openings on the table are backed as the open project has it."""

NOTHING_COMES = """() => ![...document.querySelectorAll(".notice")].some(
    (each) => each.textContent.startsWith("Reading"))"""

DROP = """([name, text]) => {
    const data = new DataTransfer();
    data.items.add(new File([text], name, { type: "image/svg+xml" }));
    const dropped = new DragEvent("drop", { dataTransfer: data, bubbles: true });
    document.querySelector("#stage").dispatchEvent(dropped);
}"""

ACT = """([act, number, paper]) => {
    const go = (name) => document.querySelector(`[data-place="${name}"]`).click();
    const named = (name) => [...document.querySelectorAll("#shelf-room button")].find(
        (each) => each.textContent.trim() === name && !each.disabled && each.offsetParent !== null);
    const keys = (...names) => {
        const list = document.querySelector(".openings");
        for (const key of names) list.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true }));
    };
    if (act === "undo" || act === "redo") document.querySelector(`#${act}`).click();
    if (["give", "leave", "lock"].includes(act)) {
        go("papers");
        const sheets = [...document.querySelectorAll(".sheets > *")];
        const hold = { give: sheets[paper], leave: sheets.at(-2), lock: sheets.at(-1) }[act];
        (hold?.querySelector("button") ?? hold)?.click();
        keys("Home", ...Array(number).fill("ArrowRight"), "Enter");
    }
    if (act === "place") go(["design", "papers", "mats", "glue-up"][number % 4]);
    if (act === "plan") go("mats");
    if (act === "stop") named("Stop")?.click();
    if (act === "take") {
        go("glue-up");
        named("Take the sheets")?.click();
    }
    if (act === "tick") {
        go("glue-up");
        const tabs = [...document.querySelectorAll("[role=tab]")];
        tabs.find((each) => each.textContent.includes("Glue"))?.click();
        named("Glued")?.click();
    }
}"""
CHANCES = {
    "give": 6,
    "leave": 1,
    "lock": 1,
    "undo": 3,
    "redo": 1,
    "place": 1,
    "plan": 3,
    "stop": 1,
    "take": 2,
    "tick": 2,
    "bring": 1,
}
"""How often each is done among all."""
PAUSES_S = (0, 0.02, 0.1, 0.4, 1.2, 2.5)


class Session:
    """A browser with a profile on disk, which a run may kill."""

    def __init__(self, playwright: Playwright, profile: Path) -> None:
        self.playwright = playwright
        self.profile = profile
        self.start()

    def start(self) -> None:
        """Start the browser on its profile."""
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            port = free.getsockname()[1]
        place = f"--user-data-dir={self.profile}"
        door = f"--remote-debugging-port={port}"
        self.process = subprocess.Popen(
            [browser_path(), *ARGUMENTS, "--headless", place, door, "about:blank"],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
        self.browser = _until(lambda: self.playwright.chromium.connect_over_cdp(f"http://127.0.0.1:{port}"))

    @property
    def context(self) -> BrowserContext:
        """The profile's own pages."""
        return self.browser.contexts[0]

    def open(self, address: str) -> tuple[Page, "Seen"]:
        """Open the page in a new tab; return it with what it shows from now on."""
        page = self.context.new_page()
        page.set_default_timeout(PATIENCE_MS)
        seen = Seen()
        page.on("console", seen.hear)
        page.add_init_script(WATCH)
        page.goto(address)
        page.wait_for_selector("#opening-1", state="attached")
        return page, seen

    def close(self, page: Page) -> None:
        """Close a tab, of which nothing may be left."""
        with suppress(Error):
            page.close()

    def kill(self) -> None:
        """End the browser as a power cut would."""
        # What is started may be a script around the browser.
        with suppress(ProcessLookupError):
            os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()

    @contextmanager
    def watched(self) -> Iterator[None]:
        """End the browser where work with it hangs, so that all that waits for it fails."""
        watch = threading.Timer(MOST_PER_RUN_S, self.kill)
        watch.start()
        try:
            yield
        finally:
            watch.cancel()


@dataclass
class Seen:
    """The states of a job, each with the time since which it was on the screen."""

    states: list[tuple[float, str]] = field(default_factory=list)

    def hear(self, said: ConsoleMessage) -> None:
        """Take note of a state that the page tells."""
        if said.text.startswith(TELLS):
            since, _, state = said.text.removeprefix(TELLS).partition(" ")
            self.states.append((int(since) / 1000, state))

    def allowed(self, end: float) -> list[str]:
        """Return what may be there after an ending at `end`: the last that had stood, and all since."""
        stood = [index for index, (since, _) in enumerate(self.states) if since <= end - STANDS_S]
        return [state for _, state in self.states[stood[-1] if stood else 0 :]]


@dataclass(frozen=True)
class Job:
    """A job under way: its page, what it showed, and the chance that drives it."""

    session: Session
    address: str
    page: Page
    seen: Seen
    chance: random.Random

    def settle(self) -> None:
        """Wait until the designs that were brought in are open, or left."""
        self.page.wait_for_function(NOTHING_COMES)

    def go_on(self) -> None:
        """Do some of it, at a person's pace and faster."""
        for _ in range(self.chance.randint(2, 8)):
            act = self.chance.choices(list(CHANCES), list(CHANCES.values()))[0]
            if act == "bring":
                sizes = [(self.chance.randint(8, 20), self.chance.randint(8, 20)) for _ in range(6)]
                self.page.evaluate(DROP, [f"window {self.chance.randrange(1000)}.svg", window_svg(sizes)])
            else:
                self.page.evaluate(ACT, [act, self.chance.randrange(6), self.chance.randrange(9)])
            # Also lets what the page tells be heard.
            self.page.wait_for_timeout(1000 * self.chance.choice(PAUSES_S))


def main() -> Iterator[Row]:
    """Yield the figures."""
    ways = {name: end for name, end in ENDINGS.items() if os.environ.get("ENDINGS_ONLY", "") in name}
    found: Counter[tuple[str, str]] = Counter()
    with (
        served(Path(os.environ.get("PEEKPAPER_SITE", SITE))) as address,
        tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder,
        sync_playwright() as playwright,
    ):
        session = Session(playwright, Path(folder))
        first, _ = session.open(address)
        first.evaluate(DROP, ["window.svg", window_svg()])
        first.wait_for_function("() => document.querySelectorAll('[id^=opening-]').length === 6")
        first.wait_for_timeout(3000)
        first.close()
        for run in range(RUNS):
            name = list(ways)[run % len(ways)]
            begun = time.monotonic()
            outcome = _outcome(session, address, ways[name], random.Random(SEED * 1_000_003 + run))
            found[name, outcome] += 1
            spent = time.monotonic() - begun
            print(f"{run} {name}: {outcome} ({spent:.0f} s)", file=sys.stderr, flush=True)
        session.kill()
    for name in ways:
        runs = sum(count for (ending, _), count in found.items() if ending == name)
        note = f"{runs} runs, {found[name, 'newest']} came back to the very last state"
        yield Row("endings", f"lost what had stood: {name}", found[name, "lost"], "runs", target=0, note=note)
        yield Row("endings", f"came to no end: {name}", found[name, BROKEN_OFF], "runs", target=0)


def _outcome(session: Session, address: str, ending: "Ending", chance: random.Random) -> str:
    """Return what `_run` does, or that it broke off, after which there is a new browser."""
    try:
        with session.watched():
            return _run(session, address, ending, chance)
    except Error as error:
        print(error, file=sys.stderr)
        session.kill()
        session.start()
        return BROKEN_OFF


def _run(session: Session, address: str, ending: "Ending", chance: random.Random) -> str:
    """Return "newest", "stood" or "lost": what was there again after one job."""
    page, seen = session.open(address)
    job = Job(session, address, page, seen, chance)
    job.go_on()
    last, end = ending(job)
    if session.process.poll() is not None:
        session.start()
    for old in {page, last.page}:
        session.close(old)
    again, found = session.open(address)
    again.wait_for_function(SHOWN)
    state = found.states[0][1]
    session.close(again)
    allowed = last.seen.allowed(end)
    if state == allowed[-1]:
        return "newest"
    if state in allowed:
        return "stood"
    for name, states in (("shown", [state]), ("before", allowed)):
        print(name, *(_brief(json.loads(each)) for each in states), sep="\n  ", file=sys.stderr)
    return "lost"


def _brief(state: list[Any]) -> str:
    document, _, past, future = state
    colourways = [(each["papers"], each["locked"]) for each in document["colourways"]]
    made = (document["plan"]["rounds"], document["ticked"])
    return f"{document['id']} {document['name']} {colourways} {made} {past} done, {future} undone"


Ending = Callable[[Job], tuple[Job, float]]
"""Ends a job; returns the one that had the project last, and when it ended."""


def _crash(job: Job) -> tuple[Job, float]:
    """Told to crash by the browser's tools, a page would never answer: its process is ended instead."""
    running = job.session.browser.new_browser_cdp_session().send("SystemInfo.getProcessInfo")
    end = time.time()
    for process in running["processInfo"]:
        if process["type"] == "renderer":
            os.kill(process["id"], signal.SIGKILL)
    return job, end


def _close_tab(job: Job) -> tuple[Job, float]:
    end = time.time()
    job.page.close()
    return job, end


def _reload(job: Job) -> tuple[Job, float]:
    end = time.time()
    job.page.reload()
    job.page.wait_for_selector("#opening-1", state="attached")
    job.seen.states[:] = [state for state in job.seen.states if state[0] <= end]
    return job, end


def _end_worker(job: Job) -> tuple[Job, float]:
    for worker in job.page.workers:
        worker.evaluate("self.close()")
    job.go_on()
    return _in_any_way(job)


def _kill(job: Job) -> tuple[Job, float]:
    end = time.time()
    job.session.kill()
    return job, end


def _close_database(job: Job) -> tuple[Job, float]:
    job.page.evaluate("connections.forEach((each) => each.close())")
    job.go_on()
    return _in_any_way(job)


def _two_tabs(job: Job) -> tuple[Job, float]:
    """What the tab shows that took the project over must be there again, whatever the other still does."""
    job.settle()
    page, seen = job.session.open(job.address)
    job.page.wait_for_selector(".notice", state="attached")
    later = replace(job, page=page, seen=seen)
    job.page.evaluate(ACT, ["give", job.chance.randrange(3), job.chance.randrange(9)])
    later.go_on()
    job.page.evaluate(ACT, ["give", job.chance.randrange(3), job.chance.randrange(9)])
    if job.chance.random() < 0.5:
        later.session.close(job.page)
    return _in_any_way(later)


def _fill_storage(job: Job) -> tuple[Job, float]:
    job.page.evaluate("window.storageIsFull = true")
    job.go_on()
    job.page.evaluate("window.storageIsFull = false")
    job.go_on()
    return _in_any_way(job)


def _in_any_way(job: Job) -> tuple[Job, float]:
    return job.chance.choice([_crash, _close_tab, _reload, _kill])(job)


ENDINGS: dict[str, Ending] = {
    "the page crashed": _crash,
    "the tab closed": _close_tab,
    "the page loaded again": _reload,
    "the worker ended": _end_worker,
    "the browser killed": _kill,
    "the database closed": _close_database,
    "two tabs": _two_tabs,
    "storage full for a while": _fill_storage,
}


def _until(act: Callable[[], Browser], tries: int = 100) -> Browser:
    for _ in range(tries - 1):
        try:
            return act()
        except Error:
            time.sleep(0.1)
    return act()
