"""Firefox, driven by the protocol of its own WebDriver server: Mozilla's Marionette, protocol 3.

Mozilla's client for it on PyPI brings a dozen further packages that don't lock with those pinned here.
"""

import json
import socket
import subprocess
import tempfile
import time
from pathlib import Path
from typing import Any

from e2e.engines.engine import free_port
from workshop.debian import program

START_S = 60
ANSWER_S = 60
COMMAND, ANSWER = 0, 1


class Gecko:
    """A Firefox without a window, in a profile of its own."""

    name = "Firefox"
    unpacks = ".br"

    def __init__(self) -> None:
        firefox = str(program("firefox-esr", "firefox-esr"))
        self._profile = tempfile.TemporaryDirectory(ignore_cleanup_errors=True)
        port = free_port()
        Path(self._profile.name, "user.js").write_text(f'user_pref("marionette.port", {port});\n')
        command = [firefox, "--headless", "--marionette", "--no-remote", "--profile", self._profile.name]
        self._process = subprocess.Popen(
            [*command, "about:blank"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        try:
            self._line = _connected(port)
            self._stream = self._line.makefile("rb")
            self._asked = 0
            self._receive()
            self._call("WebDriver:NewSession", {})
        except BaseException:
            self._end()
            raise

    def _receive(self) -> Any:
        """Return the next message, which comes as its length in bytes, a colon, and JSON."""
        length = b""
        while (byte := self._stream.read(1)) != b":":
            if not byte:
                raise ConnectionError("Firefox hung up")
            length += byte
        return json.loads(self._stream.read(int(length)))

    def _call(self, command: str, values: dict[str, Any]) -> Any:
        self._asked += 1
        message = json.dumps([COMMAND, self._asked, command, values]).encode()
        self._line.sendall(str(len(message)).encode() + b":" + message)
        kind, number, error, result = self._receive()
        assert (kind, number) == (ANSWER, self._asked)
        assert error is None, f"{command}: {error}"
        return result["value"] if isinstance(result, dict) and "value" in result else result

    def go(self, address: str) -> None:
        self._call("WebDriver:Navigate", {"url": address})

    def run(self, script: str, *values: object) -> Any:
        return self._call("WebDriver:ExecuteScript", {"script": script, "args": values})

    def ask(self, script: str, *values: object) -> Any:
        return self._call("WebDriver:ExecuteAsyncScript", {"script": script, "args": values})

    def press(self, selector: str) -> None:
        found = self._call("WebDriver:FindElement", {"using": "css selector", "value": selector})
        self._call("WebDriver:ElementClick", {"id": next(iter(found.values()))})

    def key(self, key: str) -> None:
        strokes = [{"type": "keyDown", "value": key}, {"type": "keyUp", "value": key}]
        actions = [{"type": "key", "id": "keyboard", "actions": strokes}]
        self._call("WebDriver:PerformActions", {"actions": actions})

    def close(self) -> None:
        self._line.close()
        self._end()

    def _end(self) -> None:
        self._process.terminate()
        self._process.wait()
        self._profile.cleanup()


def _connected(port: int) -> socket.socket:
    deadline = time.monotonic() + START_S
    while True:
        try:
            return socket.create_connection(("127.0.0.1", port), timeout=ANSWER_S)
        except ConnectionRefusedError:
            if time.monotonic() > deadline:
                raise
            time.sleep(0.1)
