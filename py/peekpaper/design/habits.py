"""Which habit a file follows, and which others make sense for it."""

from shapely import Polygon

from peekpaper.design.areas import holes_of
from peekpaper.design.content import Content
from peekpaper.design.design import Habit
from peekpaper.design.readings.card_ink import CardInk
from peekpaper.design.readings.inverted import framed_ink, read_inverted
from peekpaper.design.readings.knock_outs import read_knock_outs
from peekpaper.design.readings.layers import read_layers
from peekpaper.design.readings.solids import read_solids

_SEVERAL = 3
"""So many separate shapes and more make a picture drawn as openings likely (from memory)."""


def read_habit(content: Content, habit: Habit, card_colour: str | None, page: Polygon) -> CardInk:
    """Return the card as the habit draws it."""
    match habit:
        case Habit.SOLIDS:
            return read_solids(content)
        case Habit.CUT_LINES:
            return content.cut_lines
        case Habit.KNOCK_OUTS:
            return read_knock_outs(content)
        case Habit.LAYERS:
            return read_layers(content, card_colour)
        case Habit.INVERTED:
            return read_inverted(content, page)


def sensible_habits(content: Content) -> tuple[Habit, ...]:
    """Return the habits that the file may follow, the likeliest first; empty where it holds nothing."""
    sensible = {
        Habit.SOLIDS: bool(content.painted),
        Habit.CUT_LINES: bool(content.contours),
        Habit.KNOCK_OUTS: content.knocks_out and bool(content.colours),
        Habit.LAYERS: len(content.colours) > 1,
        Habit.INVERTED: bool(content.painted or content.contours),
    }
    habits = [habit for habit, is_sensible in sensible.items() if is_sensible]
    likeliest = _likeliest(content)
    return tuple(sorted(habits, key=lambda habit: habit is not likeliest))


def _likeliest(content: Content) -> Habit:
    if content.only_lines:
        return _of_lines(content)
    if len(content.colours) > 1:
        return Habit.LAYERS
    if content.knocks_out:
        return Habit.KNOCK_OUTS
    return _of_one_ink(content)


def _of_lines(content: Content) -> Habit:
    """Lines that nest are cut lines; lines side by side, with nothing around them, are openings."""
    area = content.cut_lines.area
    return Habit.CUT_LINES if holes_of(area) or len(area.geoms) < _SEVERAL else Habit.INVERTED


def _of_one_ink(content: Content) -> Habit:
    ink = content.ink
    if not holes_of(ink):
        if holes_of(content.cut_lines.area):
            return Habit.CUT_LINES
        return Habit.INVERTED if len(ink.geoms) >= _SEVERAL else Habit.SOLIDS
    framed = framed_ink(ink)
    is_picture = framed is not None and len(framed[1].geoms) >= _SEVERAL and not holes_of(framed[1])
    return Habit.INVERTED if is_picture else Habit.SOLIDS
