"""Hands that can't see or hold still: a screen reader's, one with keys alone, one that trembles."""

import math
import time
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from typing import Any, Protocol

from playwright.sync_api import Error, Locator

from e2e.hands.test_hands import spot
from e2e.table import Table

PATIENCE_S = 60
TREMOR_PX = 8
MOST_TABS = 120
ACTS = ("button", "link", "option", "radio", "switch", "tab", "textbox", "checkbox", "combobox")
LANDMARKS = ("banner", "navigation", "main", "region")
CLICK = "function () { const here = this.isConnected; this.click(); return here; }"


class Hand(Protocol):
    """A hand that does the job in its own way."""

    def press(self, role: str, name: str) -> None:
        """Find a control by what it is and how its name begins, and press it."""

    def give(self, number: int) -> None:
        """Give an opening of the first row, or the last one, what is in hand."""


@dataclass(frozen=True, slots=True)
class Node:
    """What a screen reader has of a thing on the page."""

    role: str
    name: str
    backend: int
    depth: int


class Reader:
    """A small screen reader: it hears roles and names of the tree of accessibility, and activates."""

    def __init__(self, table: Table) -> None:
        self._session = table.context.new_cdp_session(table.page)

    def heard(self) -> list[Node]:
        """Return all that is read, in reading order."""
        told = self._session.send("Accessibility.getFullAXTree")["nodes"]
        by_id = {each["nodeId"]: each for each in told}
        return [*_read(told[0], by_id, 0)]

    def press(self, role: str, name: str) -> None:
        deadline = time.monotonic() + PATIENCE_S
        while not self._activated(role, name):
            assert time.monotonic() < deadline, f"no {role} is read whose name begins with {name}"

    def _activated(self, role: str, name: str) -> bool:
        found = [each for each in self.heard() if each.role == role and each.name.startswith(name)]
        if not found:
            return False
        with suppress(Error):
            # What was drawn anew since it was heard is heard again.
            thing = self._session.send("DOM.resolveNode", {"backendNodeId": found[0].backend})["object"]
            clicked = self._session.send(
                "Runtime.callFunctionOn",
                {"objectId": thing["objectId"], "functionDeclaration": CLICK, "returnByValue": True},
            )
            return bool(clicked["result"]["value"])
        return False

    def give(self, number: int) -> None:
        self.press("option", f"Opening {number},")


def _read(node: dict[str, Any], by_id: dict[str, dict[str, Any]], depth: int) -> Iterator[Node]:
    if not node.get("ignored"):
        name = node.get("name", {}).get("value", "")
        yield Node(node["role"]["value"], name, node.get("backendDOMNodeId", 0), depth)
    for child in node.get("childIds", []):
        if child in by_id:
            yield from _read(by_id[child], by_id, depth + 1)


class Keys:
    """Keys alone: Tab until the focus is there, Enter; arrows among the openings."""

    def __init__(self, table: Table) -> None:
        self._table = table

    def press(self, role: str, name: str) -> None:
        self._walk_to(_control(self._table, role, name))
        self._table.page.keyboard.press("Enter")

    def give(self, number: int) -> None:
        self._walk_to(self._table.page.get_by_role("listbox", name="Openings of the design"))
        way = (
            ("End",)
            if self._table.opening(number + 1).count() == 0
            else ("Home", *["ArrowRight"] * (number - 1))
        )
        for key in (*way, "Enter"):
            self._table.page.keyboard.press(key)

    def _walk_to(self, target: Locator) -> None:
        target.wait_for()
        for _ in range(MOST_TABS):
            if target.evaluate("(each) => each === document.activeElement"):
                return
            self._table.page.keyboard.press("Tab")
        raise AssertionError(f"{target} is not on the keyboard's way")


class Trembling:
    """A finger that wanders by up to 8 px while it taps or holds."""

    def __init__(self, table: Table) -> None:
        self._table = table
        self._session = table.context.new_cdp_session(table.page)

    def press(self, role: str, name: str) -> None:
        target = _control(self._table, role, name)
        # It scrolls there, and looks again where the page draws it anew meanwhile.
        target.hover(trial=True)
        left, top, width, height = self._table.box(target)
        self.tap(left + width / 2, top + height / 2)

    def give(self, number: int) -> None:
        self.tap(*spot(self._table, number))

    def tap(self, x: float, y: float) -> None:
        """Tap a spot of the screen."""
        self._touch("touchStart", (x, y))
        self._wander(x, y)
        self._touch("touchEnd")

    def hold(self, x: float, y: float, ms: int) -> None:
        """Hold a finger on a spot of the screen."""
        self._touch("touchStart", (x, y))
        self._wander(x, y)
        self._table.page.wait_for_timeout(ms)
        self._wander(x, y)
        self._touch("touchEnd")

    def _wander(self, x: float, y: float) -> None:
        for step in range(1, 6):
            reach = TREMOR_PX * step / 5
            self._touch("touchMove", (x + reach * math.cos(2 * step), y + reach * math.sin(2 * step)))

    def _touch(self, kind: str, *spots: tuple[float, float]) -> None:
        points = [{"x": x, "y": y, "id": at} for at, (x, y) in enumerate(spots)]
        self._session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})


def _control(table: Table, role: Any, name: str) -> Locator:
    return table.page.locator(f"role={role}[name=/^{name}/]").first
