"""Openwork as it is cut: mosaics, lattices, rosettes and windows with thin bars, drawn by rules of their own.

Each function returns the openings of a panel in mm; what lies between them is the card.
"""

import math

import numpy as np
import shapely
from shapely import LineString, Point, Polygon, affinity, box

BAR_MM = 2.0
"""Thin, but wide enough for the least lip on both sides of the gap."""


def mosaic(count: int, seed: int, width: float, height: float) -> list[Polygon]:
    """Return panes of a mosaic: Voronoi cells of points that were spread by Lloyd's algorithm (1982)."""
    frame, random = box(0, 0, width, height), np.random.default_rng(seed)
    points = random.uniform((0, 0), (width, height), (count, 2))
    for _ in range(3):
        cells = _cells(points, frame)
        points = shapely.get_coordinates(shapely.centroid(cells))
    return _between_bars(list(_cells(points, frame)))


def lattice(pitch: float, width: float, height: float) -> list[Polygon]:
    """Return diamonds between two sets of slanting bars, cut off at the frame."""
    frame = box(0, 0, width, height)
    lines = []
    for slope in (0.6, -0.6):
        first = -height / 0.6 if slope > 0 else 0.0
        for number in range(int((width + height / 0.6) / pitch) + 1):
            at = first + number * pitch
            lines.append(LineString([(at, 0), (at + height / slope, height)]))
    return _between_bars(_faces(lines, frame))


def honeycomb(side: float, width: float, height: float) -> list[Polygon]:
    """Return hexagons, cut off at the frame."""
    frame = box(0, 0, width, height)
    cell = Polygon([(side * math.cos(turn), side * math.sin(turn)) for turn in np.arange(6) * math.pi / 3])
    cells = []
    for column in range(int(width / (1.5 * side)) + 2):
        for row in range(int(height / (math.sqrt(3) * side)) + 2):
            y = math.sqrt(3) * side * (row + column % 2 / 2)
            cells.append(affinity.translate(cell, 1.5 * side * column, y).intersection(frame))
    return _between_bars(cells)


def rosette(rings: int, sectors: int, radius: float) -> list[Polygon]:
    """Return the fields of a round window: a disc cut by circles and by spokes, every other ring shifted."""
    cells: list[Polygon] = [Point(0, 0).buffer(radius / (rings + 1), quad_segs=24)]
    for ring in range(1, rings + 1):
        inner, outer = radius * ring / (rings + 1), radius * (ring + 1) / (rings + 1)
        around = Point(0, 0).buffer(outer, quad_segs=48).difference(Point(0, 0).buffer(inner, quad_segs=48))
        for sector in range(sectors):
            turns = (sector + ring % 2 / 2 + np.linspace(0, 1, 9)) * 2 * math.pi / sectors
            rim = [(2 * radius * math.cos(turn), 2 * radius * math.sin(turn)) for turn in turns]
            cells.append(around.intersection(Polygon([(0, 0), *rim])))
    return _between_bars(cells)


def scales(across: int, rows: int, width: float) -> list[Polygon]:
    """Return rows of overlapping scales, as on a fish or a roof."""
    radius = width / across / 2
    cells, taken = [], Polygon()
    for row in range(rows):
        for number in range(across + row % 2):
            centre = Point((2 * number + 1 - row % 2) * radius, row * radius)
            scale = centre.buffer(radius, quad_segs=24).intersection(box(0, -radius, width, rows * radius))
            cells.append(scale.difference(taken))
        taken = shapely.union_all([taken, *cells[-(across + row % 2) :]]).buffer(1e-6)
    return _between_bars(cells)


def arched_window(columns: int, rows: int, width: float, height: float) -> list[Polygon]:
    """Return panes under a round arch: straight ones below, fields between arcs and spokes above."""
    pane = (width / columns, height / rows)
    cells: list[Polygon] = [
        box(column * pane[0], row * pane[1], (column + 1) * pane[0], (row + 1) * pane[1])
        for column in range(columns)
        for row in range(rows)
    ]
    upper = [
        affinity.translate(field.intersection(box(-width, -width, width, 0)), width / 2, 0)
        for field in rosette(2, 12, width / 2)
    ]
    return [*_between_bars(cells), *(field for field in upper if field.area > 1)]


def _cells(points: np.ndarray, frame: Polygon) -> np.ndarray:
    cells = shapely.get_parts(shapely.voronoi_polygons(shapely.MultiPoint(points), extend_to=frame))
    return np.asarray(shapely.intersection(cells, frame))


def _faces(lines: list[LineString], frame: Polygon) -> list[Polygon]:
    edges = shapely.node(shapely.union_all([*lines, frame.exterior]))
    faces = shapely.get_parts(shapely.polygonize([edges]))
    return [face for face in faces if frame.contains(face.representative_point())]


def _between_bars(cells: list[Polygon]) -> list[Polygon]:
    """Return what bars along the edges of cells leave of them, corners mitred; specks are left out."""
    openings = shapely.get_parts(shapely.buffer(cells, -BAR_MM / 2, join_style="mitre"))
    return [opening for opening in openings if isinstance(opening, Polygon) and opening.area > 20]
