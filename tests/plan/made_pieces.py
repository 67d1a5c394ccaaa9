"""Made-up pieces and papers, and the promises that every plan must keep."""

import math
from collections.abc import Sequence

import shapely
from shapely import Polygon, affinity

from peekpaper.papers.paper import Direction, Paper, Shelf
from peekpaper.plan.plan import CutSpeed, PaperRounds, PieceToPlace, Plan, PlanChoices

SPEED = CutSpeed()


def paper(name: str = "p1", direction: Direction = Direction.ANY, side_mm: float = 304.8) -> Paper:
    return Paper(
        name, f"Paper {name}", "#88aacc", sheet_width_mm=side_mm, sheet_height_mm=side_mm, direction=direction
    )


def each(rounds: int) -> tuple[PaperRounds, ...]:
    """So many rounds for each of the papers of these tests."""
    return tuple(PaperRounds(f"p{number}", rounds) for number in range(1, 10))


def pieces_of(outlines: Sequence[Polygon], paper_id: str = "p1", first: int = 1) -> list[PieceToPlace]:
    return [
        PieceToPlace(number, paper_id, outline, number)
        for number, outline in enumerate(outlines, start=first)
    ]


def star(points: int, outer: float, inner: float) -> Polygon:
    """A star about the origin with so many points."""
    return Polygon(
        [
            (radius * math.cos(angle), radius * math.sin(angle))
            for k in range(2 * points)
            for radius, angle in [(outer if k % 2 == 0 else inner, math.pi * k / points)]
        ]
    )


def petal(length: float, breadth: float) -> Polygon:
    """A rounded petal about the origin, as a backing piece with its lip looks."""
    tip = Polygon([(-length / 2, 0), (0, -breadth / 2), (length / 2, 0), (0, breadth / 2)])
    return tip.buffer(1.5)


def wave(length: float, breadth: float, swing: float) -> Polygon:
    """A bent strip about the origin."""
    line = [(x * length / 8 - length / 2, swing * math.sin(x * math.pi / 4)) for x in range(9)]
    return shapely.LineString(line).buffer(breadth / 2)


def promises_broken(
    plan: Plan, pieces: Sequence[PieceToPlace], shelf: Shelf, choices: PlanChoices
) -> list[str]:
    """Say what a plan gets wrong, judged by shapely alone."""
    papers = {stock.id: stock for stock in shelf.papers}
    asked = {piece.number: piece for piece in pieces}
    broken = []
    placed = sorted(piece.number for trim in plan.trims for piece in trim.pieces)
    if placed != sorted(asked):
        broken.append(f"pieces placed {placed}")
    for trim in plan.trims:
        inside = shapely.box(0, 0, trim.width_mm, trim.height_mm).buffer(
            -choices.margin_mm, join_style="mitre"
        )
        shaped = next((one for one in shelf.scraps if one.id == trim.scrap and one.outline), None)
        if (shaped is None) != (trim.outline is None):
            broken.append(f"{trim.id} has not the outline of its scrap")
        if shaped is not None:
            inside = Polygon(shaped.outline).buffer(-choices.margin_mm)
        for piece in trim.pieces:
            if asked[piece.number].paper != trim.paper:
                broken.append(f"piece {piece.number} on the wrong paper")
            turned = affinity.rotate(asked[piece.number].outline, piece.turn_deg, origin=(0, 0))
            there = affinity.translate(turned, piece.x_mm, piece.y_mm)
            if there.symmetric_difference(piece.outline).area > 1e-6:
                broken.append(f"outline of {piece.number} is not where its place says")
            if not inside.buffer(1e-3).covers(piece.outline):
                broken.append(f"piece {piece.number} past the margin of {trim.id}")
            turns = {Direction.ONE_WAY: [0.0], Direction.TWO_WAY: [0.0, 180.0]}.get(
                papers[trim.paper].direction
            )
            if turns is not None and piece.turn_deg not in turns:
                broken.append(f"piece {piece.number} turned against the pattern")
        outlines = [piece.outline for piece in trim.pieces]
        if choices.spacing_mm == 0:
            outlines = [outline.buffer(-0.005) for outline in outlines]
        tree = shapely.STRtree(outlines)
        nearest = max(choices.spacing_mm - 0.01, 0.0)
        for one, other in tree.query(outlines, predicate="dwithin", distance=nearest).T:
            if one < other:
                broken.append(f"pieces {trim.pieces[one].number} and {trim.pieces[other].number} too close")
    return broken + _mats_broken(plan, papers, choices)


def _mats_broken(plan: Plan, papers: dict[str, Paper], choices: PlanChoices) -> list[str]:
    broken = []
    rim = choices.mat_rim_mm
    usable = shapely.box(rim, rim, choices.mat_width_mm - rim, choices.mat_height_mm - rim).buffer(1e-6)
    laid: list[tuple[int, Polygon]] = []
    for trim in plan.trims:
        width, height = (trim.height_mm, trim.width_mm) if trim.turned else (trim.width_mm, trim.height_mm)
        if trim.turned and papers[trim.paper].direction is not Direction.ANY:
            broken.append(f"trim {trim.id} turned against its direction")
        for at in (trim.x_mm, trim.y_mm):
            lines = at / choices.mat_grid_mm
            if abs(lines - round(lines)) > 1e-6:
                broken.append(f"trim {trim.id} off the grid")
        outline = shapely.box(trim.x_mm, trim.y_mm, trim.x_mm + width, trim.y_mm + height)
        if not usable.covers(outline):
            broken.append(f"trim {trim.id} off the mat")
        for mat, other in laid:
            if mat == trim.mat and other.intersection(outline).area > 1e-6:
                broken.append(f"trim {trim.id} over another one")
        laid.append((trim.mat, outline))
        if not 1 <= trim.mat <= len(plan.mats):
            broken.append(f"trim {trim.id} on mat {trim.mat} of {len(plan.mats)}")
    return broken


def in_steps(length: float, step: float) -> bool:
    return abs(length / step - round(length / step)) < 1e-6
