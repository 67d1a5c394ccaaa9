"""What the main job needs of a browser, whichever engine it has."""

import socket
from typing import Any, Protocol


class Engine(Protocol):
    """A browser with one page, driven through its WebDriver server."""

    name: str
    unpacks: str
    """The ending of the smallest copies that it unpacks by itself."""

    def go(self, address: str) -> None:
        """Open the page at an address."""

    def run(self, script: str, *values: object) -> Any:
        """Return what a function body of JavaScript returns for `values`."""

    def ask(self, script: str, *values: object) -> Any:
        """Return what a function body of JavaScript hands to its last argument, a function."""

    def press(self, selector: str) -> None:
        """Click the first element that a CSS selector finds."""

    def key(self, key: str) -> None:
        """Press and release a key where the focus is."""

    def close(self) -> None:
        """End the browser."""


def free_port() -> int:
    """Return a port of this machine that nothing listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])
