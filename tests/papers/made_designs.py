"""Designs for suggestions: squares that lie beside one another as a list of pairs says."""

from collections.abc import Iterable, Mapping

from shapely import LineString, MultiPolygon, box

from peekpaper.design.design import Bar, Design, Habit, Opening
from peekpaper.papers.paper import Paper, Shelf


def design_of(alike: Mapping[int, int], beside: Iterable[tuple[int, int]], size: float = 8.0) -> Design:
    """A row of openings; `alike` gives each its group by number, `beside` tells which have a bar between."""
    openings = tuple(
        Opening(number, box(10 * number, 0, 10 * number + size, size), group, group, None)
        for number, group in sorted(alike.items())
    )
    across = LineString([(0, 0), (1, 0)])
    bars = tuple(Bar(min(pair), max(pair), 2.0, across, MultiPolygon()) for pair in beside)
    width = 10.0 * (len(openings) + 2)
    card = MultiPolygon([box(0, -10, width, 20)])
    return Design(
        width, 30, card, openings, bars, MultiPolygon(), (), (Habit.SOLIDS,), ("#000000",), 1.0, False
    )


def shelf_of(*colours: str) -> Shelf:
    """Papers p1, p2, ... of these colours."""
    return Shelf(
        tuple(Paper(f"p{place}", f"Paper {place}", colour) for place, colour in enumerate(colours, 1))
    )


BRIGHT = ("#d02020", "#2040c0", "#f0d020", "#209040", "#111111", "#ffffff", "#b060d0", "#ff9010")
"""Colours that differ by far more than it takes to tell them apart."""
