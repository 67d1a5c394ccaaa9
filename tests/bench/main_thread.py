"""The work of the page's own thread by the browser's trace of itself: processor time, whatever else runs.

Trace events are those of the Trace Event Format, as Chromium writes them: complete events ("ph" is "X") have
a start `ts`, a length `dur`, and `tdur`, the processor time of their thread within it, in microseconds.
"""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from statistics import mode
from typing import Any

from playwright.sync_api import Browser, Page

Event = dict[str, Any]

_TRACED = {"recordMode": "recordAsMuchAsPossible", "includedCategories": ["devtools.timeline", "toplevel"]}


@contextmanager
def traced(browser: Browser, page: Page) -> Iterator[list[Event]]:
    """Trace the browser; what it yields is filled once the block is left."""
    events: list[Event] = []
    complete: list[Event] = []
    watching = browser.new_browser_cdp_session()
    watching.on("Tracing.dataCollected", lambda part: events.extend(part["value"]))

    def end(told: Event) -> None:
        complete.append(told)

    watching.on("Tracing.tracingComplete", end)
    watching.send("Tracing.start", {"traceConfig": _TRACED, "transferMode": "ReportEvents"})
    yield events
    watching.send("Tracing.end")
    while not complete:
        page.wait_for_timeout(50)


def work_until_shown(events: Sequence[Event], after: str) -> list[float]:
    """Return for each input event of a kind the page's work until its frame was handed over, in ms.

    That is until the end of the task that runs the first animation frame after the event.
    """
    of_page = _of_page(events)
    begins = [
        at
        for at, event in enumerate(of_page)
        if event["name"] == "EventDispatch" and event["args"]["data"]["type"] == after
    ]
    works = []
    for begin, end in zip(begins, [*begins[1:], len(of_page)], strict=True):
        events_of_one = of_page[begin:end]
        frames = [event["ts"] for event in events_of_one if event["name"] == "FireAnimationFrame"]
        if frames:
            works.append(sum(_outermost([event for event in events_of_one if event["ts"] <= frames[0]])))
    return works


def longest_task(events: Sequence[Event]) -> float:
    """Return the processor time of the page's longest task, in ms."""
    return max(_outermost(_of_page(events)), default=0.0)


def _of_page(events: Sequence[Event]) -> list[Event]:
    """Return the complete events of the thread that takes the page's input, in the order of their starts."""
    thread = mode((event["pid"], event["tid"]) for event in events if event["name"] == "EventDispatch")
    complete = [event for event in events if event["ph"] == "X" and (event["pid"], event["tid"]) == thread]
    return sorted(complete, key=lambda event: (event["ts"], -event.get("dur", 0)))


def _outermost(events: Sequence[Event]) -> Iterator[float]:
    """Yield the processor time in ms of each event that lies in no other."""
    until = 0
    for event in events:
        if event["ts"] >= until:
            until = event["ts"] + event.get("dur", 0)
            yield event.get("tdur", 0) / 1000
