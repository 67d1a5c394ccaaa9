"""How near plans come to a strip packer given a minute, how soon the first stands, what 300 pieces take.

Targets: the mean and worst trim area by the reference's, the first answer's, time and memory of 300 pieces.
In the page all goes about a third as fast: `SECONDS / PAGE_IS_SLOWER` stands for ten seconds there.
"""

import time
from collections.abc import Iterable, Sequence

from peekpaper.papers.paper import Direction, Paper, Shelf
from peekpaper.plan.make import plans
from peekpaper.plan.plan import CutSpeed, PieceToPlace, Plan, PlanChoices
from plan_cases import CASES, Case, pieces_and_shelf
from puzzles import cut_across, jigsaw, pentominoes, tabbed, tangram
from strip_reference import SECONDS as REFERENCE_SECONDS
from strip_reference import reference_area
from table import Row, peak_memory_mb

SECONDS = 10.0
PAGE_IS_SLOWER = 3.0
FIRST_SECONDS = 1.0
CHOICES = PlanChoices()


def main() -> Iterable[Row]:
    """Yield a row for each case, their means and worsts, and the large case."""
    ratios: dict[str, list[float]] = {"first": [], "page": [], "native": []}
    for case in CASES:
        pieces, shelf = pieces_and_shelf(case)
        areas = _areas(pieces, shelf)
        best = _reference(case, pieces, shelf)
        for moment, area in areas.items():
            ratios[moment].append(area / best)
        yield Row("plan", case.name, ratios["native"][-1], "x", note=_told(areas, best))
    note = f"{len(CASES)} cases, against a strip packer's {REFERENCE_SECONDS} s"
    for moment, most in (("first", 1.20), ("page", 1.05), ("native", 1.03)):
        found = ratios[moment]
        yield Row("plan", f"mean, {moment}", sum(found) / len(found), "x", most, note=note)
    yield Row("plan", "worst, page", max(ratios["page"]), "x", 1.12, note=note)
    yield from _puzzles()
    yield from _large()


def _areas(pieces: Sequence[PieceToPlace], shelf: Shelf) -> dict[str, float]:
    """Return the trims' area (mm2) after the first second, after the page's ten seconds, and at the end."""
    begin = time.monotonic()
    areas: dict[str, float] = {}
    last: Plan | None = None
    for plan in plans(pieces, shelf, CHOICES, CutSpeed(), SECONDS):
        if plan is last:
            continue
        elapsed = time.monotonic() - begin
        area = sum(area for _, area in plan.paper_area_mm2)
        if last is None or elapsed <= FIRST_SECONDS / PAGE_IS_SLOWER:
            areas["first"] = area
        if last is None or elapsed <= SECONDS / PAGE_IS_SLOWER:
            areas["page"] = area
        areas["native"] = area
        last = plan
    return areas


def _reference(case: Case, pieces: Sequence[PieceToPlace], shelf: Shelf) -> float:
    return sum(
        reference_area(case.name, [piece for piece in pieces if piece.paper == paper.id], paper, CHOICES)
        for paper in shelf.papers
    )


def _told(areas: dict[str, float], best: float) -> str:
    return (
        f"first {areas['first'] / best:.3f}, page {areas['page'] / best:.3f}; reference {best / 100:.0f} cm2"
    )


def _puzzles() -> Iterable[Row]:
    """Yield how much more than their known rectangle puzzles take: no spacing, no margin, free sides."""
    sets = [("tangram", tangram(80.0)), ("pentominoes", pentominoes(12.0))]
    sets += [(f"jigsaw of {count}", jigsaw(count, count, 200.0, 150.0)) for count in (5, 12, 25, 60)]
    sets += [(f"cut across into {count}", cut_across(count, count, 200.0, 150.0)) for count in (12, 25, 60)]
    sets += [("24 with tabs", tabbed(6, 4, 1, 30.0))]
    choices = PlanChoices(trim_step_mm=None, spacing_mm=0.0, margin_mm=0.0)
    shelf = Shelf((Paper("p1", "Paper 1", "#8899aa"),))
    for name, outlines in sets:
        pieces = [PieceToPlace(number, "p1", outline, number) for number, outline in enumerate(outlines, 1)]
        *_, plan = plans(pieces, shelf, choices, CutSpeed(), SECONDS)
        least = sum(outline.area for outline in outlines)
        yield Row("plan", name, plan.paper_area_mm2[0][1] / least, "x", 1.10, note="by its known rectangle")


def _large() -> Iterable[Row]:
    case = Case("300 pieces", 13, 300, 14.0, (Direction.ANY,))
    pieces, shelf = pieces_and_shelf(case)
    begin = time.monotonic()
    steps = plans(pieces, shelf, CHOICES, CutSpeed(), 5.0)
    next(steps)
    first = time.monotonic() - begin
    for _ in steps:
        pass
    note = "natively; the page takes about three times as long"
    yield Row("plan", "300 pieces, first answer", first, "s", 3.0 / PAGE_IS_SLOWER, note=note)
    yield Row("plan", "300 pieces, memory", peak_memory_mb(), "MB", 500)
