"""What the page shows before Python is there: the demo, what it is and what mends it, as the desk sees it."""

import json
from typing import Any

from peekpaper.desk.desk import Desk


def demo_views() -> bytes:
    """Return `{"project", "design", "mends", "backing"}` of the demo as JSON.

    Raises RuntimeError where the desk refuses.
    """
    desk = Desk()
    project = _answer(desk, "demo", {})["project"]
    views = {name: _answer(desk, name, {"project": project}) for name in ("design", "mends", "backing")}
    return json.dumps({"project": project, **views}, separators=(",", ":")).encode()


def _answer(desk: Desk, call: str, arguments: dict[str, Any]) -> dict[str, Any]:
    *_, last = desk.steps(call, json.dumps(arguments))
    answer: dict[str, Any] = json.loads(last.json)
    if last.kind != "result":
        raise RuntimeError(f"The demo can't be shown: {answer}")
    return answer
