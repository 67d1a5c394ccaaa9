"""The versions of the project document, and the steps from each to the next."""

from collections.abc import Callable, Mapping

from peekpaper.message import message
from peekpaper.refusal import Refusal

Document = dict[str, object]
Step = Callable[[Document], Document]

VERSION = 3
"""The version that is written. A field with a default may come without a new version; any other change
takes a new one, a step from the old to the new, and a sample of the old beside the tests."""


def _seek_plan_anew(document: Document) -> Document:
    """Drop the number of rounds: version 1 counted those of all papers together, and they were other rounds.

    A page that was left open with such a document may have noted the rounds of each paper in it since.
    """
    plan = document.get("plan")
    if not isinstance(plan, dict) or not isinstance(plan.get("rounds"), int):
        return document
    return {**document, "plan": {**plan, "rounds": None}}


def _keep_the_mat_once(document: Document) -> Document:
    """Drop the mat's size from the limits of the check: up to version 2 it stood there beside the plan's."""
    limits = document.get("limits")
    if not isinstance(limits, dict):
        return document
    own = {name: value for name, value in limits.items() if name not in ("mat_width_mm", "mat_height_mm")}
    return {**document, "limits": own}


STEPS: Mapping[int, Step] = {1: _seek_plan_anew, 2: _keep_the_mat_once}
"""By version, the step that makes a document of that version into one of the next."""


def migrate(
    document: Document, thing: str, newest: int = VERSION, steps: Mapping[int, Step] = STEPS
) -> Document:
    """Return the document as one of version `newest`.

    `thing` names it: "project-file", "shelf-file" or "link". Raises Refusal where it is
    newer, or where its version is none that ever was.
    """
    version = document.get("version")
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        raise Refusal("file-without-version", thing=message(f"thing.{thing}"))
    if version > newest:
        raise Refusal("file-newer", thing=message(f"thing.{thing}"))
    for old in range(version, newest):
        document = {**steps[old](document), "version": old + 1}
    return document
