"""Every sensible way of reading a file, each with what it would make of it, for a person to choose from."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from shapely import MultiPolygon

from peekpaper.design.design import Habit, Reading
from peekpaper.design.habits import Interpretation, Sheet, interpret, sensible_habits
from peekpaper.design.parts import split_parts
from peekpaper.design.placing import place
from peekpaper.design.readings.apart import cards_apart
from peekpaper.geometry.overlay import symmetric_difference
from peekpaper.refusal import Refusal

_MOST_CARDS = 8
"""So many cards beside one another are offered one by one at most; more are parts of one design."""
_SAME = 0.01
"""Cards of as many openings and parts that differ by less than this share of their area look the same (from
memory)."""


@dataclass(frozen=True, slots=True)
class PossibleReading:
    """A way of reading a file and the card that it gives, in CSS px, loose bits included.

    `habit`, `card_colour`, `opening_colour`, `to_page` and `card_number` are the choice as `Reading` takes
    it. `openings`, `parts` and `loose_bits` count what the design has at the file's own size. `likelihood`
    has no unit; a larger one is likelier.
    """

    habit: Habit
    card_colour: str | None
    opening_colour: str | None
    to_page: bool
    card_number: int | None
    likelihood: float
    card: MultiPolygon
    openings: int
    parts: int
    loose_bits: int


def possible_readings(sheet: Sheet) -> Iterator[PossibleReading]:
    """Yield the sensible ways of reading a sheet one by one, the one that the reader chooses first.

    Those that look alike come once. Each is computed when it is asked for. Raises Refusal before the first
    where nothing on the sheet can be card.
    """
    shown: list[PossibleReading] = []
    for reading in (Reading(), *_choices(sheet)):
        try:
            meant = interpret(sheet, reading)
            if meant is None or meant.ink.area.is_empty:
                continue
            possible = _possible(sheet, meant, reading)
        except Refusal:
            if not shown:
                raise
            continue
        if not any(_looks_like(possible, other) for other in shown):
            shown.append(possible)
            yield possible
    yield from _cards_of_their_own(sheet)


def _cards_of_their_own(sheet: Sheet) -> Iterator[PossibleReading]:
    """Yield each of several cards beside one another that has openings, the least likely of all readings."""
    meant = interpret(sheet, Reading())
    cards = cards_apart(meant.ink.area) if meant is not None else ()
    if meant is None or not 1 < len(cards) <= _MOST_CARDS:
        return
    for number, card in enumerate(cards, start=1):
        only = replace(meant, ink=replace(meant.ink, area=card), likelihood=-math.inf)
        possible = _possible(sheet, only, Reading(card_number=number))
        if possible.openings:
            yield possible


def _choices(sheet: Sheet) -> Iterator[Reading]:
    habits = dict.fromkeys(habit for content in sheet.contents for habit in sensible_habits(content))
    if sheet.cut_to_page is not None:
        yield Reading(to_page=not sheet.is_trimmed)
    for habit in habits:
        yield Reading(habit)
    if Habit.LAYERS in habits:
        colours = dict.fromkeys(colour for content in sheet.contents for colour in content.colours)
        for colour in colours:
            yield Reading(Habit.LAYERS, colour)
            yield Reading(Habit.ALL_BUT, opening_colour=colour)


def _possible(sheet: Sheet, meant: Interpretation, reading: Reading) -> PossibleReading:
    card = meant.ink.area
    parts = split_parts(place(card.bounds, sheet.drawing, Reading()).area(card))
    return PossibleReading(
        habit=meant.habit,
        card_colour=meant.ink.colours[0] if meant.habit is Habit.LAYERS else None,
        opening_colour=meant.ink.given[0][0] if meant.habit is Habit.ALL_BUT and meant.ink.given else None,
        to_page=sheet.is_trimmed if reading.to_page is None else reading.to_page,
        card_number=reading.card_number,
        likelihood=meant.likelihood,
        card=card,
        openings=len(parts.openings),
        parts=len(parts.card.geoms),
        loose_bits=len(parts.loose_bits.geoms),
    )


def _looks_like(one: PossibleReading, other: PossibleReading) -> bool:
    if (one.openings, one.parts, one.loose_bits) != (other.openings, other.parts, other.loose_bits):
        return False
    least = _SAME * max(one.card.area, other.card.area)
    # Where areas differ, what they do not share is at least as large; and it takes longer to find.
    if abs(one.card.area - other.card.area) > least:
        return False
    return bool(symmetric_difference(one.card, other.card).area <= least)
