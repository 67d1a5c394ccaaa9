"""WebKit, kin of the engine of many tablets: WebKitGTK's small browser on a screen that nobody sees."""

import json
import os
import subprocess
import time
from pathlib import Path
from typing import Any
from urllib.error import URLError
from urllib.request import Request, urlopen

from e2e.engines.engine import free_port
from workshop.debian import program

START_S = 60
ANSWER_S = 60
BROWSERS = "*/webkit2gtk-4.*"
"""Where in the libraries' folder Debian keeps the browser, which is not for people: a folder a version."""

QUICK_START = {"JSC_useOMGJIT": "0"}
"""Visits are short: what the second compiler of WebAssembly makes quicker it makes too late."""


class WebKit:
    """WebKitGTK's browser, driven by the W3C's WebDriver protocol over HTTP."""

    name = "WebKitGTK"
    unpacks = ".gz"

    def __init__(self) -> None:
        driver = program("WebKitWebDriver", "webkit2gtk-driver")
        # The driver's package brings the browser: its folder is there from now on.
        browser = program("MiniBrowser", "webkit2gtk-driver", tuple(Path("/usr/lib").glob(BROWSERS)))
        # The number of the screen is told on a pipe once it is there.
        reading, writing = os.pipe()
        self._screen = subprocess.Popen(
            [program("Xvfb", "xvfb"), "-displayfd", str(writing), "-screen", "0", "1280x900x24"],
            pass_fds=[writing],
            stderr=subprocess.DEVNULL,
        )
        os.close(writing)
        with os.fdopen(reading) as told:
            display = f":{told.readline().strip()}"
        port = free_port()
        self._base = f"http://127.0.0.1:{port}/session"
        self._driver = subprocess.Popen(
            [driver, f"--port={port}"],
            env={**os.environ, **QUICK_START, "DISPLAY": display},
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        options = {"binary": str(browser), "args": ["--automation"]}
        wish = {"browserName": "MiniBrowser", "webkitgtk:browserOptions": options}
        try:
            session = self._begin({"capabilities": {"alwaysMatch": wish}})
        except BaseException:
            self._end()
            raise
        self._base += f"/{session['sessionId']}"

    def _begin(self, wish: dict[str, Any]) -> Any:
        deadline = time.monotonic() + START_S
        while True:
            try:
                return self._call("POST", "", wish)
            except URLError:
                if time.monotonic() > deadline:
                    raise
                time.sleep(0.1)

    def _call(self, method: str, path: str, body: dict[str, Any] | None = None) -> Any:
        data = None if body is None else json.dumps(body).encode()
        request = Request(
            self._base + path, method=method, data=data, headers={"Content-Type": "application/json"}
        )
        with urlopen(request, timeout=ANSWER_S) as answer:
            return json.load(answer)["value"]

    def go(self, address: str) -> None:
        self._call("POST", "/url", {"url": address})

    def run(self, script: str, *values: object) -> Any:
        return self._call("POST", "/execute/sync", {"script": script, "args": values})

    def ask(self, script: str, *values: object) -> Any:
        return self._call("POST", "/execute/async", {"script": script, "args": values})

    def press(self, selector: str) -> None:
        found = self._call("POST", "/element", {"using": "css selector", "value": selector})
        self._call("POST", f"/element/{next(iter(found.values()))}/click", {})

    def key(self, key: str) -> None:
        strokes = [{"type": "keyDown", "value": key}, {"type": "keyUp", "value": key}]
        self._call("POST", "/actions", {"actions": [{"type": "key", "id": "keyboard", "actions": strokes}]})

    def close(self) -> None:
        try:
            self._call("DELETE", "")
        finally:
            self._end()

    def _end(self) -> None:
        for process in (self._driver, self._screen):
            process.terminate()
            process.wait()
