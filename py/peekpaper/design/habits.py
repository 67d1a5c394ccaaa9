"""Which habit a file follows, and which others make sense for it."""

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from peekpaper.design.content import Content, same_colour
from peekpaper.design.design import Habit
from peekpaper.design.readings.card_ink import CardInk
from peekpaper.design.readings.cut_lines import read_cut_lines
from peekpaper.design.readings.inverted import frame_ring, read_inverted
from peekpaper.design.readings.knock_outs import read_knock_outs
from peekpaper.design.readings.layers import read_layers, seen_colours
from peekpaper.design.readings.solids import read_solids

_HAIRLINE = 0.008
"""A line thinner than this share of the drawing's diagonal is a line to cut, not card (from memory)."""


def read_habit(content: Content, habit: Habit, card_colour: str | None, page: Polygon) -> CardInk:
    """Return the card as the habit draws it."""
    match habit:
        case Habit.SOLIDS:
            return read_solids(content)
        case Habit.CUT_LINES:
            return read_cut_lines(content)
        case Habit.KNOCK_OUTS:
            return read_knock_outs(content)
        case Habit.LAYERS:
            return read_layers(content, card_colour)
        case Habit.INVERTED:
            return read_inverted(content, page)


def sensible_habits(content: Content) -> tuple[Habit, ...]:
    """Return the habits that the file may follow, the likeliest first; empty where it holds nothing."""
    if not content.painted:
        return (Habit.CUT_LINES,) if content.contours else ()
    solids = read_solids(content).area
    found = [_likeliest(content, solids)]
    colours = seen_colours(content)
    knocks_out = any(same_colour(paint.colour, content.background) for paint in content.painted)
    others = {
        Habit.SOLIDS: True,
        Habit.CUT_LINES: len(content.contours) > 1,
        Habit.KNOCK_OUTS: knocks_out and bool(colours),
        Habit.LAYERS: len(colours) > 1,
        Habit.INVERTED: True,
    }
    return (*found, *(habit for habit, sensible in others.items() if sensible and habit not in found))


def _likeliest(content: Content, solids: MultiPolygon) -> Habit:
    if not content.has_fills and _has_hairlines(content):
        return Habit.CUT_LINES
    colours = seen_colours(content)
    if len(colours) > 1:
        return Habit.LAYERS
    if any(same_colour(paint.colour, content.background) for paint in content.painted) and colours:
        return Habit.KNOCK_OUTS
    if sum(len(part.interiors) for part in solids.geoms) == 0:
        nested = read_cut_lines(content).area
        if any(part.interiors for part in nested.geoms):
            return Habit.CUT_LINES
        return Habit.INVERTED if len(solids.geoms) > 2 else Habit.SOLIDS
    ring = frame_ring(solids)
    if (
        ring is not None
        and len(solids.geoms) > 3
        and not any(p.interiors for p in solids.geoms if p is not ring)
    ):
        return Habit.INVERTED
    return Habit.SOLIDS


def _has_hairlines(content: Content) -> bool:
    lines = np.array([contour.line for contour in content.contours], dtype=object)
    if len(lines) == 0:
        return False
    left, top, right, bottom = shapely.total_bounds(lines)
    return bool(content.line_width <= _HAIRLINE * np.hypot(right - left, bottom - top))
