"""What the page tells of how Python comes in."""

from collections.abc import Callable
from typing import Any

Told = Callable[[str], Any]


def test_bytes_that_arrive_once_python_is_ready_or_broken_bring_no_progress_back(told_by: Told) -> None:
    told = told_by(
        """
        import { Messenger } from "./desk/messenger.js";

        const worker = { terminate() {}, postMessage() {} };
        const messenger = new Messenger(() => worker);
        const heard = [];
        const kinds = ["loading", "ready", "broken"];
        for (const kind of kinds) messenger.addEventListener(kind, () => heard.push(kind));
        messenger.start();
        for (const kind of ["loading", "ready", "loading"]) worker.onmessage({ data: { kind } });
        messenger.restart();
        for (const kind of ["loading", "broken", "loading"]) worker.onmessage({ data: { kind } });
        tell(heard);
        """
    )
    assert told == ["loading", "ready", "loading", "broken"]
