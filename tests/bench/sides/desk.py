"""The desk, as the page calls it: a design of 1 MB until it is on screen, the views, the demo's calls."""

import json
from collections.abc import Iterator
from typing import Any

from figure import Figure, seconds
from reading import megabyte
from waves import two_papers, waves

from peekpaper.backing.backing import BackingChoices
from peekpaper.backing.make import make_backing
from peekpaper.desk.desk import Desk
from peekpaper.desk.step import Step
from peekpaper.desk.views import backing_view, design_view


def figures() -> Iterator[Figure]:
    yield from _one_megabyte()
    yield from _views()
    yield from _demo()


def _one_megabyte() -> Iterator[Figure]:
    file = {"name": "flowers.svg", "file": {"buffer": 0}}
    desk = Desk()
    opened, step = seconds(lambda: _last(desk, "open", file, megabyte()), repeats=1)
    project = {"project": json.loads(step.json)["project"]}
    drawn, step = seconds(lambda: _last(desk, "design", project), repeats=1)
    yield Figure("a design of 1 MB: open", opened)
    yield Figure("a design of 1 MB: design", drawn, note=_size(step))
    yield Figure("a design of 1 MB: until it is on screen", opened + drawn, native=2.0, page=5.0)
    again, _ = seconds(lambda: _last(desk, "design", project))
    yield Figure("a design of 1 MB: the same once more", again)


def _views() -> Iterator[Figure]:
    design = waves(200)
    choices = BackingChoices()
    backing = make_backing(design, choices, two_papers(design))
    views = {"design": lambda: design_view(design), "backing": lambda: backing_view(backing, choices)}
    for name, view in views.items():
        taken, text = seconds(lambda view=view: json.dumps(view()))
        yield Figure(f"view of the {name}, 200 openings", taken, note=f"{len(text) / 1e3:.0f} kB")


def _demo() -> Iterator[Figure]:
    desk = Desk()
    project = {"project": json.loads(_last(desk, "demo", {}).json)["project"]}
    for call in ("design", "backing", "checklist"):
        taken, step = seconds(lambda call=call: _last(desk, call, project), repeats=1)
        yield Figure(f"the demo: {call}", taken, note=_size(step))


def _last(desk: Desk, call: str, arguments: dict[str, Any], *buffers: bytes) -> Step:
    *_, last = desk.steps(call, json.dumps(arguments), buffers)
    if last.kind != "result":
        raise ValueError(last.json)
    return last


def _size(step: Step) -> str:
    return f"{len(step.json) / 1e3:.0f} kB"
