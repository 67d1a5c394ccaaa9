"""Every sensible way of reading a file, each with what it would make of it, for a person to choose from."""

from collections.abc import Iterator
from dataclasses import dataclass

from shapely import MultiPolygon

from peekpaper.design.design import Habit, Reading
from peekpaper.design.habits import Interpretation, Sheet, interpret, sensible_habits
from peekpaper.design.parts import split_parts
from peekpaper.design.placing import place
from peekpaper.drawing.drawing import Drawing
from peekpaper.refusal import Refusal

_SAME = 1e-3
"""Cards that differ by less than this share of their area are one to the eye."""


@dataclass(frozen=True, slots=True)
class PossibleReading:
    """A way of reading a file and the card that it gives, in CSS px, loose bits included.

    `habit`, `card_colour`, `opening_colour` and `to_page` are the choice as `Reading` takes it. `openings`,
    `parts` and `loose_bits` count what the design has at the file's own size. `likelihood` has no unit; a
    larger one is likelier.
    """

    habit: Habit
    card_colour: str | None
    opening_colour: str | None
    to_page: bool
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
            possible = _possible(sheet.drawing, meant, to_page=reading.to_page)
        except Refusal:
            if not shown:
                raise
            continue
        if not any(_looks_like(possible.card, other.card) for other in shown):
            shown.append(possible)
            yield possible


def _choices(sheet: Sheet) -> Iterator[Reading]:
    habits = dict.fromkeys(habit for content in sheet.contents for habit in sensible_habits(content))
    if sheet.cut_to_page is not None:
        yield Reading(to_page=True)
    for habit in habits:
        yield Reading(habit)
    if Habit.LAYERS in habits:
        colours = dict.fromkeys(colour for content in sheet.contents for colour in content.colours)
        for colour in colours:
            yield Reading(Habit.LAYERS, colour)
            yield Reading(Habit.ALL_BUT, opening_colour=colour)


def _possible(drawing: Drawing, meant: Interpretation, *, to_page: bool) -> PossibleReading:
    card = meant.ink.area
    parts = split_parts(place(card.bounds, drawing, Reading()).area(card))
    return PossibleReading(
        habit=meant.habit,
        card_colour=meant.ink.colours[0] if meant.habit is Habit.LAYERS else None,
        opening_colour=meant.ink.given[0][0] if meant.habit is Habit.ALL_BUT and meant.ink.given else None,
        to_page=to_page,
        likelihood=meant.likelihood,
        card=card,
        openings=len(parts.openings),
        parts=len(parts.card.geoms),
        loose_bits=len(parts.loose_bits.geoms),
    )


def _looks_like(one: MultiPolygon, other: MultiPolygon) -> bool:
    if abs(one.area - other.area) > _SAME * max(one.area, other.area):
        return False
    return len(one.geoms) == len(other.geoms) and one.hausdorff_distance(other) <= _SAME * one.length
