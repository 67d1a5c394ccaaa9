"""Backing: how fast it is made, and what fitted lips gain over one uniform lip."""

import sys
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from table import Row, seconds

sys.path.append(str(Path(__file__).resolve().parents[1] / "backing"))

from icons import NAMES, icon_panel
from measuring import lips
from panels import design_of, random_panel

from peekpaper.backing.backing import Backing, BackingChoices, Mode
from peekpaper.backing.kept import BackingBench
from peekpaper.backing.make import backings, make_backing
from peekpaper.demo.harbour import demo_project
from peekpaper.design.design import Design, Habit, Opening
from peekpaper.pipeline import Pipeline

PART = "backing"
CELL_MM = 20.0
NODES = 100


def main() -> Iterable[Row]:
    """Yield a row for each figure."""
    yield from _speed()
    yield from _controls()
    yield from _gain()


def waves(count: int) -> Design:
    """A card with so many wavy openings of a hundred nodes each, in rows."""
    columns = int(np.ceil(np.sqrt(count)))
    random = np.random.default_rng(1)
    angles = np.linspace(0, 2 * np.pi, NODES, endpoint=False)
    openings = []
    for k in range(count):
        radius = 7.5 + 1.5 * np.cos(angles * random.integers(2, 6) + random.uniform(0, 6))
        middle = CELL_MM * (np.array([k % columns, k // columns]) + 0.5)
        nodes = middle + radius[:, None] * np.stack([np.cos(angles), np.sin(angles)], axis=1)
        openings.append(Opening(k + 1, Polygon(nodes), k, k, None))
    side = CELL_MM * columns
    frame = shapely.box(-3, -3, side + 3, side + 3)
    card = MultiPolygon([Polygon(frame.exterior, [opening.area.exterior for opening in openings])])
    return Design(
        width_mm=side + 6,
        height_mm=side + 6,
        card=card,
        openings=tuple(openings),
        bars=(),
        loose_bits=MultiPolygon(),
        warnings=(),
        habits=(Habit.SOLIDS,),
        colours=(),
        mm_per_px=1.0,
        size_is_a_guess=False,
    )


def papers_of(design: Design) -> dict[int, str]:
    return {opening.number: f"p{opening.number % 2}" for opening in design.openings}


def _speed() -> Iterator[Row]:
    before = 0.0
    for count in (200, 250, 500, 1000, 2000):
        design = waves(count)
        repeats = 3 if count <= 500 else 1
        papers = papers_of(design)
        taken, _ = seconds(
            lambda design=design, papers=papers: make_backing(design, BackingChoices(), papers),
            repeats=repeats,
        )
        target = 1.0 if count == 200 else None
        yield Row(PART, f"{count} openings, {count * NODES} edge points", taken, "s", target)
        if count > 250:
            yield Row(PART, f"{count} against {count // 2} openings", taken / before, "times", 2.4)
        before = taken


def _controls() -> Iterator[Row]:
    design, choices = waves(200), BackingChoices()
    papers = papers_of(design)
    bench = BackingBench()
    make_backing(design, choices, papers, bench)
    moves = {
        "lip": [(replace(choices, lip_mm=lip), papers) for lip in (2.0, 2.2, 2.4)],
        "gap": [(replace(choices, gap_mm=gap), papers) for gap in (0.5, 0.6, 0.7)],
        "one paper": [(choices, papers | {number: "p7"}) for number in (50, 60, 70)],
        "one opened": [(choices, {n: p for n, p in papers.items() if n != gone}) for gone in (50, 60, 70)],
    }
    for name, steps in moves.items():
        left = list(steps)

        def preview(left: list[tuple[BackingChoices, dict[int, str]]] = left) -> Backing:
            wanted, chosen = left.pop()
            return next(backings(design, wanted, chosen, bench))

        taken, _ = seconds(preview)
        yield Row(PART, f"preview after moving {name}, 200 openings", taken, "s", 0.3)


def _gain() -> Iterator[Row]:
    project = demo_project()
    designs = {"the demo": Pipeline().design(project)}
    designs |= {f"icon {name}": icon_panel(name, 80.0) for name in NAMES}
    designs |= {f"random panel {seed}": design_of(random_panel(seed).card) for seed in (1, 2, 3)}
    for name, design in designs.items():
        choices = BackingChoices()
        fitted = make_backing(design, choices, papers_of(design))
        uniform = make_backing(design, replace(choices, mode=Mode.UNIFORM), papers_of(design))
        more = 100 * (_glue_mm2(design, fitted) / max(_glue_mm2(design, uniform), 1e-9) - 1)
        lifted = len(uniform.under_least_lip) - len(fitted.under_least_lip)
        note = f"{len(fitted.pieces)} pieces; uniform lip {uniform.uniform_lip_mm:.2f} mm"
        yield Row(PART, f"{name}: glue area gained", more, "%", note=note)
        yield Row(PART, f"{name}: lifted over the least lip", lifted, "pieces", note=note)
        ratios = lips(design, fitted, choices).ratios()
        yield Row(PART, f"{name}: achieved over ideal lip, median", float(np.median(ratios)), "", 0.99, True)
        yield Row(PART, f"{name}: the same, 5th percentile", float(np.percentile(ratios, 5)), "", 0.95, True)
        fewer = f"{fitted.nodes_before} before"
        yield Row(PART, f"{name}: nodes of hidden edges", fitted.nodes_after, "nodes", note=fewer)


def _glue_mm2(design: Design, backing: Backing) -> float:
    """The area of lips on the card: what can be glued."""
    areas = {opening.number: opening.area.area for opening in design.openings}
    return sum(
        piece.outline.area - sum(areas[number] for number in piece.openings) for piece in backing.pieces
    )
