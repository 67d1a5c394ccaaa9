"""Backing: how fast it is made, and what fitted lips gain over one uniform lip."""

import sys
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np

from both_sides import both_sides
from table import Row

sys.path.append(str(Path(__file__).resolve().parents[1] / "backing"))
sys.path.append(str(Path(__file__).resolve().parent / "sides"))

from icons import NAMES, icon_panel
from measuring import lips
from panels import design_of, random_panel
from waves import two_papers

from peekpaper.backing.backing import Backing, BackingChoices, Mode
from peekpaper.backing.make import make_backing
from peekpaper.demo.harbour import demo_project
from peekpaper.design.design import Design
from peekpaper.pipeline import Pipeline

PART = "backing"


def main() -> Iterable[Row]:
    """Yield a row for each figure."""
    yield from both_sides("backing")
    yield from _gain()


def _gain() -> Iterator[Row]:
    project = demo_project()
    designs = {"the demo": Pipeline().design(project)}
    designs |= {f"icon {name}": icon_panel(name, 80.0) for name in NAMES}
    designs |= {f"random panel {seed}": design_of(random_panel(seed).card) for seed in (1, 2, 3)}
    for name, design in designs.items():
        choices = BackingChoices()
        fitted = make_backing(design, choices, two_papers(design))
        uniform = make_backing(design, replace(choices, mode=Mode.UNIFORM), two_papers(design))
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
