"""Which habit a file follows, and which others make sense for it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import shapely
from shapely import Polygon

from peekpaper.design.design import Habit, Reading
from peekpaper.design.readings.card_ink import CardInk
from peekpaper.design.readings.frame import framed_ink
from peekpaper.design.readings.inverted import read_inverted
from peekpaper.design.readings.knock_outs import read_knock_outs
from peekpaper.design.readings.layers import read_layers
from peekpaper.design.readings.solids import read_solids
from peekpaper.design.sheet.content import Content
from peekpaper.design.sheet.contents import contents_of
from peekpaper.design.worth import SEVERAL, comes_apart, makes_sense, worth
from peekpaper.drawing.drawing import Drawing
from peekpaper.geometry.areas import holes_of
from peekpaper.refusal import Refusal

_MOST_COLOURS = 8
"""So many colours are tried as the card's at most."""


@dataclass(frozen=True)
class Sheet:
    """A drawing, its page, and its content without ever more of what lies around the design."""

    drawing: Drawing

    @cached_property
    def page(self) -> Polygon:
        """The drawing's page in CSS px."""
        return page_of(self.drawing)

    @cached_property
    def contents(self) -> tuple[Content, ...]:
        """All that is drawn, then what lies further inside."""
        return tuple(contents_of(self.drawing))

    @cached_property
    def meant(self) -> dict[Reading, "Interpretation | None"]:
        """What the sheet was found to mean so far, by what was decided but for the size."""
        return {}


@dataclass(frozen=True, slots=True)
class Interpretation:
    """A drawing's content, the habit that it is read by, and the card that this gives."""

    content: Content
    habit: Habit
    ink: CardInk


def interpret(sheet: Sheet, reading: Reading) -> Interpretation | None:
    """Return what a sheet means under the person's decisions, None where nothing in it can be card.

    The likeliest habit for what the file holds is kept unless its card would come apart, or hold next to no
    openings, where another makes a sound one. It is found once for all finished sizes. Raises Refusal where
    shapes overlap too often.
    """
    decided = replace(reading, px_per_inch=None, width_mm=None, height_mm=None)
    if decided not in sheet.meant:
        sheet.meant[decided] = _interpreted(sheet, decided)
    return sheet.meant[decided]


def _interpreted(sheet: Sheet, reading: Reading) -> Interpretation | None:
    best: Interpretation | None = None
    most = 0
    for content, habit in _candidates(sheet.contents, reading.habit):
        try:
            for ink in _readings(content, habit, reading.card_colour, sheet.page):
                if best is None:
                    best, most = Interpretation(content, habit, ink), worth(ink.area) + SEVERAL
                    if makes_sense(ink.area):
                        return best
                elif worth(ink.area) > max(most, 0):
                    best, most = Interpretation(content, habit, ink), worth(ink.area)
        except Refusal:
            # Only the likeliest has to be told.
            if best is None:
                raise
    return best


def page_of(drawing: Drawing) -> Polygon:
    """Return a drawing's page in CSS px."""
    return shapely.box(0, 0, max(drawing.width, 0.0), max(drawing.height, 0.0))


def sensible_habits(content: Content) -> tuple[Habit, ...]:
    """Return the habits that the file may follow, the likeliest first; empty where it holds nothing."""
    sensible = {
        Habit.SOLIDS: bool(content.painted),
        Habit.CUT_LINES: content.has_contours,
        Habit.KNOCK_OUTS: content.knocks_out and bool(content.colours),
        Habit.LAYERS: len(content.colours) > 1,
        Habit.INVERTED: bool(content.painted or content.has_contours),
    }
    habits = [habit for habit, is_sensible in sensible.items() if is_sensible]
    likeliest = _likeliest(content)
    return tuple(sorted(habits, key=lambda habit: habit is not likeliest))


def _candidates(contents: Sequence[Content], chosen: Habit | None) -> Iterator[tuple[Content, Habit]]:
    """Yield contents and habits to read them by, the likeliest first."""
    rest: list[tuple[Content, Habit]] = []
    for index, content in enumerate(contents):
        try:
            habits = sensible_habits(content)
        except Refusal:
            if index == 0:
                raise
            continue
        if chosen is not None and habits:
            yield content, chosen
        elif habits:
            yield content, habits[0]
            # The contours of filled shapes nest whatever is meant by them, so that they tell the least, and
            # those without an outermost one tell nothing new.
            others = [habit for habit in habits[1:] if index == 0 or habit is not Habit.CUT_LINES]
            others.sort(key=Habit.CUT_LINES.__eq__)
            rest += [(content, habit) for habit in others if not _is_ruled_out(content, habits[0], habit)]
        if content.only_lines:
            # Borders are passed over where lines are read.
            break
    yield from rest


def _is_ruled_out(content: Content, likeliest: Habit, other: Habit) -> bool:
    """Tell that a habit can't be meant where another is the likeliest, however sound its card would be.

    Loose bits in a card do not make its openings the card, nor are hairlines bars.
    """
    if likeliest is Habit.SOLIDS:
        return other is Habit.INVERTED
    return other is Habit.SOLIDS and content.only_lines and not content.may_be_bars


def _readings(content: Content, habit: Habit, card_colour: str | None, page: Polygon) -> Iterator[CardInk]:
    """Yield the cards that the habit may draw, the likeliest first."""
    match habit:
        case Habit.SOLIDS:
            yield read_solids(content)
        case Habit.CUT_LINES:
            yield content.cut_lines
        case Habit.KNOCK_OUTS:
            yield read_knock_outs(content)
        case Habit.INVERTED:
            yield read_inverted(content, page)
        case Habit.LAYERS:
            yield read_layers(content, card_colour)
            for other in content.colours[1:_MOST_COLOURS] if card_colour is None else ():
                yield read_layers(content, other)


def _likeliest(content: Content) -> Habit:
    if content.only_lines:
        return _of_lines(content)
    if content.line_card is not None:
        return Habit.CUT_LINES
    if len(content.colours) > 1:
        return Habit.LAYERS
    if content.knocks_out and content.colours:
        return Habit.KNOCK_OUTS
    return _of_one_ink(content)


def _of_lines(content: Content) -> Habit:
    """Lines that nest are cut lines; lines side by side, with nothing around them, are openings.

    Lines as wide as bars that make the better card are solids.
    """
    area = content.cut_lines.area
    if content.may_be_bars and worth(content.ink) > worth(area):
        return Habit.SOLIDS
    return Habit.CUT_LINES if holes_of(area) or len(area.geoms) < SEVERAL else Habit.INVERTED


def _of_one_ink(content: Content) -> Habit:
    """Ink in a frame line, or in several pieces that hold few openings, is openings; any other is card."""
    ink = content.ink
    if not holes_of(ink):
        if holes_of(content.cut_lines.area):
            return Habit.CUT_LINES
        return Habit.INVERTED if len(ink.geoms) >= SEVERAL else Habit.SOLIDS
    framed = framed_ink(ink)
    if framed is None:
        return Habit.INVERTED if comes_apart(ink) else Habit.SOLIDS
    if framed.by_line:
        return Habit.SOLIDS if framed.is_nest else Habit.INVERTED
    is_picture = len(framed.openings.geoms) >= SEVERAL and not holes_of(framed.openings)
    return Habit.INVERTED if is_picture else Habit.SOLIDS
