"""Calls on the design and its backing."""

from collections.abc import Iterator, Sequence

import shapely

from peekpaper.desk.context import Arguments, Context
from peekpaper.desk.step import Step, result
from peekpaper.desk.views import backing_view, design_view


def design(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the design of a project."""
    yield result(design_view(context.pipeline.design(context.project(arguments))))


def backing(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the backing of a project's chosen colourway."""
    yield result(backing_view(context.pipeline.backing(context.project(arguments))))


def openings_in(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the numbers of the openings whose middle lies in a drawn outline."""
    outline = arguments["outline"]
    inside: list[int] = []
    if len(outline) >= 3:
        drawn = shapely.make_valid(shapely.Polygon(outline))
        inside = [
            opening.number
            for opening in context.pipeline.design(context.project(arguments)).openings
            if drawn.intersects(opening.area.representative_point())
        ]
    yield result({"openings": inside})
