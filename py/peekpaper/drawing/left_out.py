"""What is told of content that can't become geometry."""

from collections.abc import Sequence

from peekpaper.drawing.drawing import LeftOut
from peekpaper.drawing.tree.place import Skipped
from peekpaper.message import message

_KINDS = (
    "text", "image", "filter", "mask", "clip-shape", "pattern", "external", "script", "font-unit", "tangled",
    "unreadable",
)  # fmt: skip
_MOST_SPOTS = 200


def name_left_out(skipped: Sequence[Skipped]) -> tuple[LeftOut, ...]:
    """Return what was left out, by kind, with the message for the person and the places that are known."""
    return tuple(_named(kind, of_kind) for kind in _KINDS if (of_kind := _of_kind(skipped, kind)))


def _of_kind(skipped: Sequence[Skipped], kind: str) -> list[Skipped]:
    return [one for one in skipped if one.kind == kind]


def _named(kind: str, skipped: Sequence[Skipped]) -> LeftOut:
    spots = [one.spot for one in skipped if one.spot is not None]
    return LeftOut(
        kind, len(skipped), message(f"left-out.{kind}", count=len(skipped)), tuple(spots[:_MOST_SPOTS])
    )
