"""All work on the trims of one paper: a first answer, then fewer trims, then smaller ones.

A smaller trim is sought by packing rectangles, where the pieces are such, then by overlap minimisation.
Papers know nothing of each other, so that each may be worked on anywhere, and what comes of one depends on
how many rounds went into it alone.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Protocol

from peekpaper.breathing import Breathing
from peekpaper.plan.fill.first import first_layouts
from peekpaper.plan.fill.rectangles import RectanglePacking
from peekpaper.plan.overlap.gather import Gathering, loose_trim
from peekpaper.plan.overlap.shrink import Shrinking
from peekpaper.plan.shapes.distance_field import DistanceFields, joined_fields, make_distance_fields
from peekpaper.plan.trims.layout import Layout
from peekpaper.plan.trims.task import PaperTask, on_scrap

BEYOND_SPACING_MM = 2.0
"""How far past the spacing distances are known: more than the skin in which contacts are kept."""
FIELDS_AT_ONCE = 12
"""How many pieces' fields are made between two breaths: some hundredths of a second on a tablet."""

Layouts = tuple[Layout, ...]


@dataclass(frozen=True, slots=True)
class Found:
    """One paper's trims after so many rounds; `layouts` are the same as before where a round found none."""

    layouts: Layouts
    rounds: int


class _TrimSearch(Protocol):
    """Seeks a smaller trim for the same pieces, round by round; `best` is the smallest so far."""

    best: Layout

    @property
    def is_done(self) -> bool: ...

    def round(self) -> Iterator[None]: ...


def searched(task: PaperTask) -> Iterator[Found | None]:
    """Yield the first answer for a paper (of no rounds), then what is found after each round.

    Between them None is yielded every few hundredths of a second, to let the caller breathe or stop.
    """
    fields = yield from _fields_of(task)
    layouts = yield from first_layouts(task, fields)
    rounds = 0
    yield Found(layouts, rounds)
    gathering = Gathering(task, fields, layouts)
    while not gathering.is_done:
        yield from gathering.round()
        layouts, rounds = gathering.layouts, rounds + 1
        yield Found(layouts, rounds)
    loose = loose_trim(layouts)
    if loose is None:
        return
    task = on_scrap(task, loose.scrap)
    kinds: tuple[Callable[[Layout], _TrimSearch], ...] = (
        lambda trim: RectanglePacking(task, trim),
        lambda trim: Shrinking(task, fields, trim),
    )
    for begin in kinds:
        search = begin(loose)
        yield None
        while not search.is_done:
            yield from search.round()
            layouts = tuple(search.best if layout is loose else layout for layout in layouts)
            loose, rounds = search.best, rounds + 1
            yield Found(layouts, rounds)


def _fields_of(task: PaperTask) -> Breathing[DistanceFields]:
    reach, parts = task.choices.spacing_mm + BEYOND_SPACING_MM, []
    for first in range(0, len(task.shapes), FIELDS_AT_ONCE):
        parts.append(make_distance_fields(task.shapes[first : first + FIELDS_AT_ONCE], reach))
        yield None
    return joined_fields(parts)
