"""Which habit a file follows, and which others make sense for it."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import shapely
from shapely import MultiPolygon, Polygon

from peekpaper.design.design import Habit, Reading
from peekpaper.design.likelihood import EXPECTED, MOST_LIKELY, Account, Drawn, likelihood, most_likely
from peekpaper.design.readings.card_ink import CardInk
from peekpaper.design.readings.frame import framed_ink, ring_hole
from peekpaper.design.readings.inverted import read_inverted
from peekpaper.design.readings.knock_outs import read_knock_outs
from peekpaper.design.readings.layers import read_all_but, read_layers
from peekpaper.design.readings.solids import read_solids
from peekpaper.design.sheet.content import Content
from peekpaper.design.sheet.contents import contents_of
from peekpaper.design.sheet.page import bleeds, cut_to_page, reaches_beyond
from peekpaper.design.worth import SEVERAL, comes_apart, worth
from peekpaper.drawing.drawing import Drawing
from peekpaper.geometry.areas import holes_of
from peekpaper.refusal import Refusal

_MOST_COLOURS = 8
"""So many colours are tried as the card's at most."""


@dataclass(frozen=True, slots=True)
class Interpretation:
    """A drawing's content, the habit that it is read by, and the card that this gives.

    `account` tells what the card makes of all that is drawn, None where it is empty.
    """

    content: Content
    habit: Habit
    ink: CardInk
    account: Account | None
    likelihood: float


@dataclass(frozen=True)
class Sheet:
    """A drawing, its page, and its content without ever more of what lies around the design.

    What was read is kept, so that each reading is made once however often it is compared.
    """

    drawing: Drawing

    @cached_property
    def page(self) -> Polygon:
        """The drawing's page in CSS px."""
        return page_of(self.drawing)

    @cached_property
    def cut_to_page(self) -> "Sheet | None":
        """The sheet without what is drawn beyond the page; None where next to nothing is, or all."""
        if not reaches_beyond(self.drawing, self.page):
            return None
        return Sheet(cut_to_page(self.drawing, self.page))

    @cached_property
    def is_trimmed(self) -> bool:
        """Whether what lies beyond the page is cut off where nobody decided.

        Where the drawing bleeds, what viewers show is expected to be meant, unless it makes a far worse card.
        """
        if self.cut_to_page is None or not bleeds(self.drawing, self.page):
            return False
        seen = interpret(self, Reading(to_page=True))
        whole = interpret(self, Reading(to_page=False))
        if seen is None or whole is None:
            return whole is None
        return bool(seen.likelihood + EXPECTED >= whole.likelihood)

    def as_decided(self, reading: Reading) -> "Sheet":
        """Return what is to be read of the sheet: all of it, or what lies on its page."""
        to_page = self.is_trimmed if reading.to_page is None else reading.to_page
        return (self.cut_to_page if to_page else None) or self

    @cached_property
    def contents(self) -> tuple[Content, ...]:
        """All that is drawn, then what lies further inside."""
        return tuple(contents_of(self.drawing))

    @cached_property
    def meant(self) -> dict[Reading, "Interpretation | None"]:
        """What the sheet was found to mean so far, by what was decided but for the size."""
        return {}

    def read(
        self, content: Content, habit: Habit, colour: str | None, *, is_expected: bool
    ) -> Interpretation:
        """Return a reading of some content with its likelihood. Raises Refusal as `interpret` does."""
        key = (id(content), habit, colour)
        if key not in self._read:
            ink = _card(content, habit, colour, self.page)
            self._read[key] = ink, None if ink.area.is_empty else self._drawn.account(content, ink)
        ink, account = self._read[key]
        odds = -math.inf if account is None else likelihood(account, habit, is_expected)
        return Interpretation(content, habit, ink, account, odds)

    def lost(self, meant: Interpretation) -> MultiPolygon:
        """Return where a reading makes nothing of what is drawn, in CSS px."""
        account = meant.account
        if account is None:
            return MultiPolygon()
        if account not in self._lost:
            self._lost[account] = self._drawn.lost(meant.content, meant.ink, account)
        return self._lost[account]

    @cached_property
    def _lost(self) -> dict[Account, MultiPolygon]:
        return {}

    @cached_property
    def _read(self) -> dict[tuple[int, Habit, str | None], tuple[CardInk, Account | None]]:
        return {}

    @cached_property
    def _drawn(self) -> Drawn:
        return Drawn(self.contents[0])


def interpret(sheet: Sheet, reading: Reading) -> Interpretation | None:
    """Return what a sheet means under the person's decisions, None where nothing in it can be card.

    That is the likeliest reading; others are not looked at where none could be likelier. It is found once for
    all finished sizes. Raises Refusal where shapes overlap too often.
    """
    sheet = sheet.as_decided(reading)
    decided = replace(
        reading, to_page=None, card_number=None, px_per_inch=None, width_mm=None, height_mm=None
    )
    if decided not in sheet.meant:
        sheet.meant[decided] = _interpreted(sheet, decided)
    return sheet.meant[decided]


def _interpreted(sheet: Sheet, reading: Reading) -> Interpretation | None:
    best: Interpretation | None = None
    for content, habit in _candidates(sheet.contents, _chosen(reading)):
        try:
            for colour in _colours(content, habit, reading):
                if best is not None and best.likelihood >= most_likely(habit):
                    break
                meant = sheet.read(content, habit, colour, is_expected=best is None)
                if best is None or meant.likelihood > best.likelihood:
                    best = meant
        except Refusal:
            # Only the likeliest has to be told.
            if best is None:
                raise
        if best is not None and best.likelihood >= MOST_LIKELY:
            break
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
        Habit.ALL_BUT: len(content.colours) > 2,
        Habit.FACES: content.faces is not None,
    }
    habits = [habit for habit, is_sensible in sensible.items() if is_sensible]
    likeliest = _likeliest(content)
    return tuple(sorted(habits, key=lambda habit: habit is not likeliest))


def _chosen(reading: Reading) -> Habit | None:
    """Return the habit that was chosen, if only by choosing a colour."""
    if reading.habit is None and reading.opening_colour is not None:
        return Habit.ALL_BUT
    if reading.habit is None and reading.card_colour is not None:
        return Habit.LAYERS
    return reading.habit


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
            rest += [(content, habit) for habit in others]
        if content.only_lines:
            # Borders are passed over where lines are read.
            break
    yield from rest


def _colours(content: Content, habit: Habit, reading: Reading) -> Sequence[str | None]:
    """Return the colours that a habit may set apart, the likeliest first; None where it asks for none."""
    match habit:
        case Habit.LAYERS:
            every = content.colours[:_MOST_COLOURS]
            return [reading.card_colour] if reading.card_colour else every or [None]
        case Habit.ALL_BUT:
            every = content.colours[: -_MOST_COLOURS - 1 : -1]
            return [reading.opening_colour] if reading.opening_colour else every or [None]
    return [None]


def _card(content: Content, habit: Habit, colour: str | None, page: Polygon) -> CardInk:
    """Return the card that a habit draws."""
    match habit:
        case Habit.SOLIDS:
            return read_solids(content)
        case Habit.CUT_LINES | Habit.FACES:
            return (content.faces if habit is Habit.FACES else None) or content.cut_lines
        case Habit.KNOCK_OUTS:
            return read_knock_outs(content)
        case Habit.INVERTED:
            return read_inverted(content, page)
        case Habit.LAYERS:
            return read_layers(content, colour)
        case Habit.ALL_BUT:
            return read_all_but(content, colour)


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

    Where more of them can be cut between the faces that they share out, and no less comes of it, those are
    meant. Lines as wide as bars that make the better card are solids, but not where each goes around one
    opening.
    """
    habit, card = Habit.CUT_LINES, content.cut_lines
    faces = content.faces
    if faces is not None and faces.uncut < card.uncut and worth(faces.area) >= worth(card.area):
        habit, card = Habit.FACES, faces
    area = card.area
    outlines = len(area.geoms) >= SEVERAL and all(map(ring_hole, content.ink.geoms))
    if content.may_be_bars and not outlines and worth(content.ink) > worth(area):
        return Habit.SOLIDS
    return habit if holes_of(area) or len(area.geoms) < SEVERAL else Habit.INVERTED


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
