"""A made-up panel with everything that the sheets are made from, laid out by hand: no other step runs."""

import itertools
import math
from functools import cache

import numpy as np
import shapely
from shapely import MultiPolygon, Point, Polygon, affinity, box

from peekpaper.backing.backing import Backing, BackingChoices, Piece, WholeBack
from peekpaper.design.design import Design, Opening
from peekpaper.gluing.glue_up import glue_up
from peekpaper.papers.paper import Colourway, Direction, Paper, Scrap, Shelf
from peekpaper.plan.plan import Mat, PlacedPiece, Plan, PlanChoices, SheetPlacement, Trim
from peekpaper.project.project import Project, Source
from peekpaper.sheets.choices import SheetChoices
from peekpaper.sheets.sheet_file import SheetFile
from peekpaper.sheets.take import take_sheets
from peekpaper.sheets.work import Work
from peekpaper.words.words import read_words

PITCH_MM = 24.0
LIP_MM = 2.0
TURNS = (0.0, 90.0, 180.0, 37.5, 270.0, 301.25)

PAPERS = (
    Paper("p1", "Sea glass", "#9fd3c7", sheets=1, price=0.9),
    Paper("p2", "Gorse & thrift", "#f2c14e", sheets=None, direction=Direction.ONE_WAY),
    Paper("p3", "Морская пена", "#38618c", sheets=0, price=1.25, sheet_width_mm=152.4, sheet_height_mm=152.4),
)


@cache
def sample_work(openings: int = 24, mat_mm: float = 304.8, whole_back: bool = True) -> Work:
    """Return a panel of `openings` petals, panes, discs and leaves in rows, backed with three papers."""
    columns = max(3, math.ceil(math.sqrt(openings)))
    areas = tuple(_opening(number, columns) for number in range(openings))
    rows = math.ceil(openings / columns)
    width, height = columns * PITCH_MM + 8, rows * PITCH_MM + 8
    outer = box(0, 0, width, height).buffer(-6).buffer(6, quad_segs=24)
    card = shapely.difference(outer, shapely.union_all(areas))
    design = Design(
        width_mm=width,
        height_mm=height,
        card=MultiPolygon([card]),
        openings=tuple(
            Opening(number, area, number % 4, number % 4, None) for number, area in enumerate(areas, 1)
        ),
        bars=(),
        loose_bits=(),
        warnings=(),
        habits=(),
        colours=("#000000",),
        mm_per_px=25.4 / 96,
        size_is_a_guess=False,
    )
    pieces = tuple(
        Piece(
            number, (number,), PAPERS[number % 3].id, area.buffer(LIP_MM, quad_segs=20), LIP_MM, LIP_MM, None
        )
        for number, area in enumerate(areas, 1)
    )
    back = MultiPolygon([outer.buffer(-2, quad_segs=24)]) if whole_back else None
    backing = Backing(pieces, back, (), 0, LIP_MM, width / 2, (), 0, 0, (), ())
    project = Project(
        id="sample",
        name="Harbour Panel",
        source=Source("harbour.svg", "<svg/>"),
        shelf=Shelf(PAPERS, (Scrap("s1", "p1", 120.0, 80.0),)),
        colourways=(Colourway("c1", "First", {piece.number: piece.paper for piece in pieces}),),
        colourway="c1",
        backing=BackingChoices(whole_back=WholeBack("p2") if whole_back else None),
        plan=PlanChoices(mat_width_mm=mat_mm, mat_height_mm=mat_mm),
    )
    gluing = glue_up(project, design, backing)
    return Work(project, design, backing, _plan(pieces, mat_mm), gluing, read_words("en"))


@cache
def sample_sheets(openings: int, choices: SheetChoices, whole_back: bool = True) -> tuple[SheetFile, ...]:
    """Return the files of a sample panel, taken once for all tests that look at them."""
    return tuple(take_sheets(sample_work(openings, whole_back=whole_back), choices))


def squares_project(rows: int, side_mm: float = 5.0, bar_mm: float = 2.0, rim_mm: float = 6.0) -> Project:
    """Return a project of as many rows as columns of alike square openings, all backed with one paper."""
    pitch, size = side_mm + bar_mm, 2 * rim_mm + rows * (side_mm + bar_mm) - bar_mm
    corners = [rim_mm + pitch * place for place in range(rows)]
    squares = "".join(
        f"M{x} {y}h{side_mm}v{side_mm}h-{side_mm}z" for y, x in itertools.product(corners, corners)
    )
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{size}mm" height="{size}mm" '
        f'viewBox="0 0 {size} {size}"><path fill-rule="evenodd" d="M0 0H{size}V{size}H0Z{squares}"/></svg>'
    )
    return Project(
        id="squares",
        name="Squares",
        source=Source("squares.svg", svg),
        shelf=Shelf(PAPERS),
        colourways=(Colourway("c1", "First", dict.fromkeys(range(1, rows**2 + 1), "p1")),),
        colourway="c1",
    )


def _opening(index: int, columns: int) -> Polygon:
    row, column = divmod(index, columns)
    x, y = 4 + PITCH_MM * (column + 0.5), 4 + PITCH_MM * (row + 0.5)
    match index % 4:
        case 0:
            shape = box(-7, -7, 7, 7)
        case 1:
            shape = Point(0, 0).buffer(8, quad_segs=32)
        case 2:
            shape = shapely.intersection(
                Point(-5, 0).buffer(10, quad_segs=32), Point(5, 0).buffer(10, quad_segs=32)
            )
        case _:
            angle = np.linspace(0, 2 * np.pi, 121)[:-1]
            radius = 6.5 + 1.6 * np.cos(3 * angle)
            shape = Polygon(np.column_stack([radius * np.cos(angle), radius * np.sin(angle)]))
    return affinity.translate(shape, x, y)


def _plan(pieces: tuple[Piece, ...], mat_mm: float) -> Plan:
    """Lay the pieces of each paper in trims of up to four by two, the trims in rows on mats."""
    trims: list[Trim] = []
    mat, x, y, row_height = 1, 0.0, 0.0, 0.0
    for paper in PAPERS:
        mine = [piece for piece in pieces if piece.paper == paper.id]
        for count, start in enumerate(range(0, len(mine), 8), 1):
            placed = _laid(mine[start : start + 8], paper.direction)
            width = 12.7 * math.ceil((max(piece.outline.bounds[2] for piece in placed) + 3) / 12.7)
            height = 12.7 * math.ceil((max(piece.outline.bounds[3] for piece in placed) + 3) / 12.7)
            turned = paper.direction is Direction.ANY and count % 2 == 0
            across, down = (height, width) if turned else (width, height)
            if x + across > mat_mm:
                x, y, row_height = 0.0, y + row_height, 0.0
            if y + down > mat_mm:
                mat, x, y, row_height = mat + 1, 0.0, 0.0, 0.0
            scrap = "s1" if paper.id == "p1" and count == 1 else None
            spot = None if scrap else SheetPlacement(1 + count // 4, 12.7 * (count % 4), 25.4, False)
            trims.append(
                Trim(f"{paper.id}-{count}", paper.id, width, height, scrap, placed, mat, x, y, turned, spot)
            )
            x, row_height = x + across, max(row_height, down)
    return Plan(
        trims=tuple(trims),
        mats=tuple(Mat(number, mat_mm, mat_mm) for number in range(1, mat + 1)),
        paper_area_mm2=tuple(
            (paper.id, sum(trim.width_mm * trim.height_mm for trim in trims if trim.paper == paper.id))
            for paper in PAPERS
        ),
        sheets=tuple((paper.id, 2) for paper in PAPERS),
        cut_length_mm=sum(piece.outline.length for piece in pieces),
        seconds=0.0,
        rounds=(),
        complete=True,
        warnings=(),
    )


def _laid(pieces: list[Piece], direction: Direction) -> tuple[PlacedPiece, ...]:
    cell = 26.0
    placed = []
    for index, piece in enumerate(pieces):
        turn = 0.0 if direction is Direction.ONE_WAY else TURNS[index % len(TURNS)]
        turned = affinity.rotate(piece.outline, turn, origin=(0, 0))
        row, column = divmod(index, 4)
        x = 3 + column * cell - turned.bounds[0]
        y = 3 + row * cell - turned.bounds[1]
        placed.append(PlacedPiece(piece.number, turn, x, y, affinity.translate(turned, x, y)))
    return tuple(placed)
