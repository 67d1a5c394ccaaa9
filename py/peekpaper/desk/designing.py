"""Calls on the design and its backing."""

from collections.abc import Iterator, Sequence

import shapely

from peekpaper.breathing import telling
from peekpaper.design.possible import PossibleReading
from peekpaper.desk.context import Arguments, Context
from peekpaper.desk.step import BREATH, Step, result, step
from peekpaper.desk.views import View, backing_view, design_view, reading_view
from peekpaper.papers.lasso import openings_inside
from peekpaper.project.codec import encode
from peekpaper.project.page_layout import start_layout

_WORTH_A_PREVIEW = 5000
"""Nodes of the card from which on a person would wait for the whole design."""


def design(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Show what can be seen of a project's design, where the rest takes its time; answer with the whole."""
    project = context.project(arguments)
    preview = context.pipeline.design_preview(project)
    if preview is not None and shapely.get_num_coordinates(preview.card) >= _WORTH_A_PREVIEW:
        yield step("progress", design_view(preview))
    made = yield from telling(context.pipeline.design_in_slices(project), BREATH)
    yield result(design_view(made))


def design_seen(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with what is known soonest of a project's design: its card and openings, or all."""
    project = context.project(arguments)
    yield result(design_view(context.pipeline.design_preview(project) or context.pipeline.design(project)))


def readings(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Show the ways of reading a project's file one by one, and answer with all, the likeliest first.

    Each progress is `{"reading": r}`, the answer `{"readings": [r, ...]}`, with r `{"choice": {"habit",
    "card_colour", "opening_colour", "to_page", "card_number"}, "openings": n, "parts": n, "loose_bits": n,
    "card": path, "width": w, "height": h}`. `card` is a coarse picture, loose bits included, rings filled by
    even-odd, in a box from 0 0 to w h whose longer side is 100. The first one is what the reader itself
    chooses. To take one, hand its `choice` to the edit `read_again` as it is.
    """
    shown: list[tuple[PossibleReading, View]] = []
    for possible in context.pipeline.readings(context.project(arguments)):
        shown.append((possible, reading_view(possible)))
        yield step("progress", {"reading": shown[-1][1]})
    chosen, *others = shown
    others.sort(key=lambda each: -each[0].likelihood)
    yield result({"readings": [view for _, view in (chosen, *others)]})


def backing(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Show a quick preview of the backing of a project's chosen colourway; answer with the whole."""
    project = context.project(arguments)
    preview = context.pipeline.backing_preview(project)
    if preview is not None:
        yield step("progress", backing_view(preview, project.backing))
    yield result(backing_view(context.pipeline.backing(project), project.backing))


def backing_touched_up(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with what mends changed of the last backing, before all is made anew.

    `{"backing": view | null}`, null where only the whole backing tells.
    """
    project = context.project(arguments)
    touched = context.pipeline.backing_touched_up(project)
    yield result({"backing": None if touched is None else backing_view(touched, project.backing)})


def openings_in(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the numbers of the openings whose middle lies in a drawn outline."""
    outline = tuple((float(x), float(y)) for x, y in arguments["outline"])
    design = context.pipeline.design(context.project(arguments))
    yield result({"openings": list(openings_inside(design, outline))})


def start_page(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the finished piece on a page to start from."""
    made = context.pipeline.design(context.project(arguments))
    yield result({"page": encode(start_layout(made.width_mm, made.height_mm))})
