"""Designs to plan, backed by the package itself: panels of openly licensed icons, openwork drawn by rules."""

import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import shapely
from shapely import Polygon, affinity

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parents[1] / "drawing"))

from icon_sets import all_icons
from panels import design_of

from openwork import arched_window, honeycomb, lattice, mosaic, rosette, scales
from peekpaper.backing.backing import BackingChoices
from peekpaper.backing.make import make_backing
from peekpaper.demo.harbour import demo_project
from peekpaper.drawing.read import read_drawing
from peekpaper.papers.paper import Direction, Paper, Shelf
from peekpaper.pipeline import Pipeline
from peekpaper.plan.plan import PieceToPlace
from peekpaper.refusal import Refusal

LEAST_OPENING_MM2, MOST_OPENING_MM2 = 25.0, 2500.0
BAR_MM = 8.0


@dataclass(frozen=True, slots=True)
class Case:
    """So many openings of icons `icon_mm` wide, on papers of these directions; `seed` chooses the icons.

    `name` tells how many pieces there are: openings too small for the least lip get none.
    """

    name: str
    seed: int
    openings: int
    icon_mm: float
    directions: tuple[Direction, ...]


ANY, ONE_WAY, TWO_WAY = Direction.ANY, Direction.ONE_WAY, Direction.TWO_WAY
CASES = (
    Case("20 pieces", 1, 25, 45.0, (ANY,)),
    Case("20 pieces, one-way", 2, 22, 45.0, (ONE_WAY,)),
    Case("28 pieces", 3, 30, 40.0, (ANY,)),
    Case("24 pieces, two-way", 4, 30, 40.0, (TWO_WAY,)),
    Case("38 pieces", 5, 40, 35.0, (ANY,)),
    Case("38 pieces, two papers", 6, 40, 45.0, (ANY, ONE_WAY)),
    Case("44 small pieces", 7, 50, 25.0, (ANY,)),
    Case("53 pieces, two papers", 8, 60, 40.0, (ANY, ANY)),
    Case("52 pieces, three papers", 9, 60, 45.0, (ANY, TWO_WAY, ONE_WAY)),
    Case("73 pieces, four papers", 10, 80, 45.0, (ANY, ANY, TWO_WAY, ONE_WAY)),
    Case("87 small pieces", 11, 100, 22.0, (ANY,)),
    Case("118 pieces, four papers", 12, 131, 40.0, (ANY, ANY, ANY, ANY)),
)


@dataclass(frozen=True, slots=True)
class Openwork:
    """A panel drawn by rules, on papers of these directions."""

    name: str
    openings: Callable[[], list[Polygon]]
    directions: tuple[Direction, ...]


OPENWORK = (
    Openwork("mosaic of 60 panes", lambda: mosaic(60, 1, 200.0, 140.0), (ANY,)),
    Openwork("mosaic of 40 panes, one-way", lambda: mosaic(40, 2, 180.0, 180.0), (ONE_WAY,)),
    Openwork(
        "mosaic of 90 panes, four papers", lambda: mosaic(90, 3, 240.0, 180.0), (ANY, ANY, TWO_WAY, ANY)
    ),
    Openwork("diamond lattice, two papers", lambda: lattice(32.0, 200.0, 150.0), (ANY, ONE_WAY)),
    Openwork("honeycomb", lambda: honeycomb(16.0, 200.0, 140.0), (ANY,)),
    Openwork("rosette, three papers", lambda: rosette(4, 16, 100.0), (ANY, ANY, ANY)),
    Openwork("scales, four papers", lambda: scales(9, 8, 210.0), (ANY, ANY, ANY, TWO_WAY)),
    Openwork("arched window, two papers", lambda: arched_window(5, 4, 160.0, 150.0), (ANY, ANY)),
)


def pieces_of_openwork(panel: Openwork) -> tuple[list[PieceToPlace], Shelf]:
    """Return the backing pieces of a panel drawn by rules, and the shelf of its papers."""
    return _backed(panel.openings(), panel.directions)


def pieces_of_the_demo() -> tuple[list[PieceToPlace], Shelf]:
    """Return the backing pieces of the demo, and the shelf of its papers."""
    project = demo_project()
    return list(Pipeline().pieces_to_place(project)), project.shelf


def pieces_and_shelf(case: Case) -> tuple[list[PieceToPlace], Shelf]:
    """Return the backing pieces of a case's panel, and the shelf of its papers."""
    return _backed(_holes(case), case.directions)


def _backed(holes: Sequence[Polygon], directions: Sequence[Direction]) -> tuple[list[PieceToPlace], Shelf]:
    papers = tuple(
        Paper(f"p{number}", f"Paper {number}", "#8899aa", direction=direction)
        for number, direction in enumerate(directions, start=1)
    )
    design = design_of(_frame(holes).difference(shapely.union_all(holes)))
    paper_of = {
        opening.number: papers[place % len(papers)].id for place, opening in enumerate(design.openings)
    }
    backing = make_backing(design, BackingChoices(), paper_of)
    return [
        PieceToPlace(piece.number, piece.paper, piece.outline, piece.number) for piece in backing.pieces
    ], Shelf(papers)


def _frame(holes: Sequence[Polygon]) -> Polygon:
    return shapely.box(*shapely.total_bounds(holes)).buffer(BAR_MM, join_style="mitre")


def _holes(case: Case) -> list[Polygon]:
    """Return openings cut by icons, each icon in a cell of its own."""
    icons = all_icons()
    order = np.random.default_rng(case.seed).permutation(len(icons))
    holes: list[Polygon] = []
    cells = 0
    for number in order:
        found = _openings(icons[number][1], case.icon_mm)
        if found:
            pitch = case.icon_mm * 1.2 + BAR_MM
            row, column = divmod(cells, 12)
            holes += [affinity.translate(hole, column * pitch, row * pitch) for hole in found]
            cells += 1
        if len(holes) >= case.openings:
            return holes[: case.openings]
    raise ValueError("not icons enough")


def _openings(content: bytes, width_mm: float) -> list[Polygon]:
    try:
        drawing = read_drawing(content, 0.02)
    except Refusal:
        return []
    ink = shapely.union_all([shape.fill.area for shape in drawing.shapes if shape.fill])
    scale = width_mm / drawing.width
    parts = shapely.get_parts(affinity.scale(ink, scale, scale, origin=(0, 0)))
    outlines = [Polygon(part.exterior) for part in parts if isinstance(part, Polygon)]
    return [
        outline
        for outline in outlines
        if LEAST_OPENING_MM2 <= outline.area <= MOST_OPENING_MM2
        and outline.buffer(-1.0).geom_type == "Polygon"
    ]
