"""Sentences on content that can't become geometry."""

from collections.abc import Sequence

from peekpaper.drawing.drawing import LeftOut
from peekpaper.drawing.tree.place import Skipped

_SENTENCES = {
    "text": (
        "1 piece of text was left out: turn text into outlines in your drawing program.",
        "{} pieces of text were left out: turn text into outlines in your drawing program.",
    ),
    "image": (
        "1 picture was left out: trace it in your drawing program if it is to be cut.",
        "{} pictures were left out: trace them in your drawing program if they are to be cut.",
    ),
    "filter": (
        "1 filter effect was left out: the shape is read without its blur or shadow.",
        "{} filter effects were left out: the shapes are read without their blur or shadow.",
    ),
    "mask": (
        "1 mask was left out: what it hides is read as if it showed; cut the shape itself instead.",
        "{} masks were left out: what they hide is read as if it showed; cut the shapes themselves instead.",
    ),
    "clip-shape": (
        "1 clip by a CSS shape was left out: what it hides is read as if it showed; cut the shape itself "
        "instead.",
        "{} clips by CSS shapes were left out: what they hide is read as if it showed; cut the shapes "
        "themselves instead.",
    ),
    "pattern": (
        "1 pattern fill was left out: cut that opening here by hand, or fill it, if it is missed.",
        "{} pattern fills were left out: cut those openings here by hand, or fill them, if they are missed.",
    ),
    "external": (
        "1 part lies in another file and was left out: paste it into this file.",
        "{} parts lie in other files and were left out: paste them into this file.",
    ),
    "script": (
        "1 script was left out: nothing in a file is run here.",
        "{} scripts were left out: nothing in a file is run here.",
    ),
    "font-unit": (
        "1 shape is measured by the letters of a font and was left out: give its size in mm or px.",
        "{} shapes are measured by the letters of a font and were left out: give their sizes in mm or px.",
    ),
    "tangled": (
        "1 shape crosses itself too often and was left out: draw it here by hand if it is missed.",
        "{} shapes cross themselves too often and were left out: draw them here by hand if they are missed.",
    ),
    "unreadable": (
        "1 shape can't be read and was left out: draw it here by hand if it is missed.",
        "{} shapes can't be read and were left out: draw them here by hand if they are missed.",
    ),
}


_MOST_SPOTS = 200


def name_left_out(skipped: Sequence[Skipped]) -> tuple[LeftOut, ...]:
    """Return what was left out, by kind, with the sentence for the person and the places that are known."""
    return tuple(_named(kind, of_kind) for kind in _SENTENCES if (of_kind := _of_kind(skipped, kind)))


def _of_kind(skipped: Sequence[Skipped], kind: str) -> list[Skipped]:
    return [one for one in skipped if one.kind == kind]


def _named(kind: str, skipped: Sequence[Skipped]) -> LeftOut:
    message = _SENTENCES[kind][len(skipped) > 1].format(len(skipped))
    spots = [one.spot for one in skipped if one.spot is not None]
    return LeftOut(kind, len(skipped), message, tuple(spots[:_MOST_SPOTS]))
