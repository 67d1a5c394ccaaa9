"""Sets of pieces that are known to fill a rectangle: a tangram, pentominoes, rectangles cut up at random."""

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, Polygon, affinity
from shapely.ops import split

TANGRAM_QUARTERS = (
    ((0, 0), (4, 0), (2, 2)),
    ((0, 0), (2, 2), (0, 4)),
    ((4, 0), (4, 2), (3, 1)),
    ((3, 1), (4, 2), (3, 3), (2, 2)),
    ((2, 2), (3, 3), (1, 3)),
    ((0, 4), (1, 3), (3, 3), (2, 4)),
    ((4, 2), (4, 4), (2, 4)),
)
"""The seven pieces in their square, in quarters of its side (the traditional puzzle)."""

PENTOMINOES = (
    "FIIIIILLLL",
    "FFFNWWTTTL",
    "YFNNXWWTZZ",
    "YYNXXXWTZV",
    "YUNUXPPZZV",
    "YUUUPPPVVV",
)
"""The twelve pentominoes in a rectangle of 10 x 6 (one of its 2339 fillings)."""


def tangram(side_mm: float) -> list[Polygon]:
    """Return the tangram's pieces; together they fill a square of that side."""
    return [Polygon(np.array(piece) * (side_mm / 4)) for piece in TANGRAM_QUARTERS]


def pentominoes(cell_mm: float) -> list[Polygon]:
    """Return the twelve pentominoes; together they fill ten by six cells."""
    return [
        shapely.union_all(
            [
                shapely.box(x * cell_mm, y * cell_mm, (x + 1) * cell_mm, (y + 1) * cell_mm)
                for y, row in enumerate(PENTOMINOES)
                for x, there in enumerate(row)
                if there == letter
            ]
        )
        for letter in sorted(set("".join(PENTOMINOES)))
    ]


def jigsaw(pieces: int, seed: int, width_mm: float, height_mm: float) -> list[Polygon]:
    """Return a rectangle cut into so many convex pieces, each turned at random."""
    random = np.random.default_rng(seed)
    seeds = random.uniform((0, 0), (width_mm, height_mm), (pieces, 2))
    frame = shapely.box(0, 0, width_mm, height_mm)
    cells = shapely.get_parts(shapely.voronoi_polygons(shapely.MultiPoint(seeds), extend_to=frame))
    return [affinity.rotate(cell.intersection(frame), random.uniform(0, 360)) for cell in cells]


def cut_across(pieces: int, seed: int, width_mm: float, height_mm: float) -> list[Polygon]:
    """Return a rectangle cut in two, its largest part again, and so on; each piece turned at random."""
    random = np.random.default_rng(seed)
    parts = [shapely.box(0, 0, width_mm, height_mm)]
    while len(parts) < pieces:
        largest = parts.pop(max(range(len(parts)), key=lambda index: parts[index].area))
        while True:
            middle = np.array(largest.centroid.coords[0])
            angle = random.uniform(0, np.pi)
            away = 2 * (width_mm + height_mm) * np.array([np.cos(angle), np.sin(angle)])
            halves = split(largest, LineString([middle - away, middle + away])).geoms
            if len(halves) == 2 and all(half.area > 0.03 * half.length**2 for half in halves):
                break
        parts += halves
    return [affinity.rotate(part, random.uniform(0, 360)) for part in parts]


def cut_by_lines(pieces: int, seed: int, width_mm: float, height_mm: float) -> list[Polygon]:
    """Return a rectangle cut by lines from edge to edge into at least so many pieces, each turned."""
    random = np.random.default_rng(seed)
    parts = [shapely.box(0, 0, width_mm, height_mm)]
    while len(parts) < pieces:
        there, angle = random.uniform((0, 0), (width_mm, height_mm)), random.uniform(0, np.pi)
        away = 2 * (width_mm + height_mm) * np.array([np.cos(angle), np.sin(angle)])
        line = LineString([there - away, there + away])
        cut = [half for part in parts for half in split(part, line).geoms]
        if all(part.area > 0.02 * part.length**2 for part in cut):
            parts = cut
    return [affinity.rotate(part, random.uniform(0, 360)) for part in parts]


def cut_by_waves(columns: int, rows: int, seed: int, cell_mm: float) -> list[Polygon]:
    """Return a rectangle cut by wavy lines across and down, each piece turned at random."""
    random = np.random.default_rng(seed)
    sides = np.array([columns, rows]) * cell_mm
    parts = [shapely.box(0, 0, *sides)]
    for axis, count in ((0, columns), (1, rows)):
        for number in range(1, count):
            along = np.linspace(-0.1, 1.1, 90)
            waves, begin = random.uniform(1, 3), random.uniform(0, 2 * np.pi)
            swing = 0.15 * cell_mm * np.sin(2 * np.pi * waves * along + begin)
            nodes = np.stack([number * cell_mm + swing, along * sides[1 - axis]], axis=1)
            line = LineString(nodes if axis == 0 else nodes[:, ::-1])
            parts = [half for part in parts for half in split(part, line).geoms]
    return [affinity.rotate(part, random.uniform(0, 360)) for part in parts]


def triangles(nodes: int, seed: int, width_mm: float, height_mm: float) -> list[Polygon]:
    """Return a rectangle cut into the triangles between its corners and so many nodes, each turned."""
    random = np.random.default_rng(seed)
    inner = random.uniform(
        (0.05 * width_mm, 0.05 * height_mm), (0.95 * width_mm, 0.95 * height_mm), (nodes, 2)
    )
    frame = shapely.box(0, 0, width_mm, height_mm)
    every = np.concatenate([shapely.get_coordinates(frame)[:-1], inner])
    parts = shapely.get_parts(shapely.delaunay_triangles(shapely.MultiPoint(every)))
    return [affinity.rotate(part, random.uniform(0, 360)) for part in parts]


def quadrilaterals(columns: int, rows: int, seed: int, cell_mm: float) -> list[Polygon]:
    """Return a rectangle cut into quadrilaterals of much the same size, each turned at random."""
    random = np.random.default_rng(seed)
    nodes = np.stack(np.meshgrid(np.arange(columns + 1.0), np.arange(rows + 1.0)), axis=-1)
    nodes[:, 1:-1, 0] += random.uniform(-0.08, 0.08, (rows + 1, columns - 1))
    nodes[1:-1, :, 1] += random.uniform(-0.08, 0.08, (rows - 1, columns + 1))
    outlines = [
        Polygon(cell_mm * nodes[[row, row, row + 1, row + 1], [column, column + 1, column + 1, column]])
        for row in range(rows)
        for column in range(columns)
    ]
    return [affinity.rotate(outline, random.uniform(0, 360)) for outline in outlines]


def rounded(outlines: list[Polygon], step_mm: float) -> list[Polygon]:
    """Return outlines with their coordinates rounded."""
    return [Polygon(np.round(shapely.get_coordinates(outline) / step_mm) * step_mm) for outline in outlines]


def tabbed(columns: int, rows: int, seed: int, cell_mm: float) -> list[Polygon]:
    """Return a rectangle cut into pieces with round tabs, each turned at random."""
    random = np.random.default_rng(seed)
    across = {
        (row, column): _edge(random, (column, row), (column + 1, row), 0 < row < rows)
        for row in range(rows + 1)
        for column in range(columns)
    }
    down = {
        (row, column): _edge(random, (column, row), (column, row + 1), 0 < column < columns)
        for row in range(rows)
        for column in range(columns + 1)
    }
    outlines = [
        Polygon(
            cell_mm
            * np.concatenate(
                [
                    across[row, column][:-1],
                    down[row, column + 1][:-1],
                    across[row + 1, column][:0:-1],
                    down[row, column][:0:-1],
                ]
            )
        )
        for row in range(rows)
        for column in range(columns)
    ]
    return [affinity.rotate(outline, random.uniform(0, 360)) for outline in outlines]


def _edge(
    random: np.random.Generator, start: tuple[int, int], end: tuple[int, int], has_tab: bool
) -> NDArray[np.float64]:
    """Return points from start to end, round a tab to either side where there is one."""
    along = np.array(end, float) - start
    if not has_tab:
        return np.array([start, end], float)
    out = np.array([-along[1], along[0]]) * random.choice([-1, 1])
    middle, radius, neck = 0.5 + random.uniform(-0.05, 0.05), 0.11 + random.uniform(-0.01, 0.01), 0.07
    opening = np.arcsin(neck / radius)
    angles = np.linspace(1.5 * np.pi - opening, -0.5 * np.pi + opening, 15)
    height = 0.04 + radius * np.cos(opening)
    tab = [(middle + radius * np.cos(angle), height + radius * np.sin(angle)) for angle in angles]
    steps = [(0.0, 0.0), (middle - neck, 0.0), *tab, (middle + neck, 0.0), (1.0, 0.0)]
    return np.array([np.array(start) + along * x + out * y for x, y in steps])
