"""What is told of content that can't become geometry."""

from collections.abc import Sequence

from peekpaper.drawing.drawing import LeftOutKind
from peekpaper.drawing.tree.graphics_state import LeftOut
from peekpaper.message import message

_KINDS = (
    "text", "words-without-letters", "image", "filter", "mask", "clip-shape", "pattern", "external", "script",
    "font-unit", "tangled", "unreadable",
)  # fmt: skip
_MOST_BOXES = 200


def name_left_out(left_out: Sequence[LeftOut]) -> tuple[LeftOutKind, ...]:
    """Return what was left out, by kind, with the message for the person and the places that are known."""
    return tuple(_named(kind, of_kind) for kind in _KINDS if (of_kind := _of_kind(left_out, kind)))


def _of_kind(left_out: Sequence[LeftOut], kind: str) -> list[LeftOut]:
    return [one for one in left_out if one.kind == kind]


def _named(kind: str, left_out: Sequence[LeftOut]) -> LeftOutKind:
    boxes = [one.box for one in left_out if one.box is not None]
    return LeftOutKind(
        kind, len(left_out), message(f"left-out.{kind}", count=len(left_out)), tuple(boxes[:_MOST_BOXES])
    )
