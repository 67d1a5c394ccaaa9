"""Which pieces may take one another's place when gluing."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon
from shapely.geometry.polygon import orient

from peekpaper.backing.backing import Piece
from peekpaper.design.design import Design
from peekpaper.papers.paper import Direction, Paper

Complexes = NDArray[np.complex128]

TOLERANCE_MM = 0.3
"""How far outlines may differ: a good deal less than the least lip."""

_SAMPLES = 128
_FIXED_TURNS = {Direction.ONE_WAY: (0.0,), Direction.TWO_WAY: (0.0, np.pi)}


def interchangeable(
    design: Design, pieces: Sequence[Piece], papers: Iterable[Paper]
) -> dict[int, tuple[int, ...]]:
    """Return the numbers of the other pieces that may take each piece's place, by its number.

    They are of the same paper and their outlines match under a turn that the paper's direction allows; never
    mirrored, because a paper has a face.
    """
    directions = {paper.id: paper.direction for paper in papers}
    alike = {opening.number: opening.alike for opening in design.openings}
    families: dict[tuple[str, int], list[Piece]] = defaultdict(list)
    for piece in pieces:
        if len(piece.openings) == 1:
            families[piece.paper, alike[piece.number]].append(piece)
    others: dict[int, tuple[int, ...]] = {piece.number: () for piece in pieces}
    for (paper, _), family in families.items():
        turns = _FIXED_TURNS.get(directions.get(paper, Direction.ANY))
        for group in _groups(family, turns):
            for number in group:
                others[number] = tuple(other for other in group if other != number)
    return others


@dataclass(frozen=True, slots=True, eq=False)
class _Shape:
    """An outline about its centroid as complex numbers: its corners, and points at equal steps along it.

    All run the same way round, so that steps correspond.
    """

    area: float
    corners: Complexes
    steps: Complexes


def _groups(family: Sequence[Piece], turns: tuple[float, ...] | None) -> list[list[int]]:
    """Return the numbers of pieces whose outlines match the first of their group."""
    groups: list[tuple[_Shape, list[int]]] = []
    for piece in family:
        shape = _shape(piece.outline)
        for first, numbers in groups:
            if _match(first, shape, turns):
                numbers.append(piece.number)
                break
        else:
            groups.append((shape, [piece.number]))
    return [numbers for _, numbers in groups]


def _shape(outline: Polygon) -> _Shape:
    points = shapely.get_coordinates(orient(outline).exterior)
    corners = (points - shapely.get_coordinates(outline.centroid)) @ np.array([1, 1j])
    lengths = np.append(0.0, np.cumsum(np.abs(np.diff(corners))))
    at = np.linspace(0, lengths[-1], _SAMPLES, endpoint=False)
    return _Shape(outline.area, corners, np.interp(at, lengths, corners))


def _match(one: _Shape, other: _Shape, turns: tuple[float, ...] | None) -> bool:
    if abs(one.area - other.area) > TOLERANCE_MM * np.abs(np.diff(one.corners)).sum():
        return False
    angles = (_best_turn(one, other),) if turns is None else turns
    return any(_distance(one, other, angle) <= TOLERANCE_MM for angle in angles)


def _best_turn(one: _Shape, other: _Shape) -> float:
    """Return the turn that lays `other` on `one`, from the correlation of their steps."""
    correlation = np.fft.ifft(np.fft.fft(one.steps) * np.conj(np.fft.fft(other.steps)))
    return float(np.angle(correlation[np.argmax(np.abs(correlation))]))


def _distance(one: _Shape, other: _Shape, angle: float) -> float:
    """Return how far the two outlines lie apart at most, with `other` turned."""
    turn = np.exp(1j * angle)
    return max(_reach(other.steps * turn, one.corners), _reach(one.steps, other.corners * turn))


def _reach(points: Complexes, ring: Complexes) -> float:
    """Return the greatest distance of points from a ring of corners."""
    starts, edges = ring[:-1], np.diff(ring)
    offsets = points[:, None] - starts
    along = (offsets * np.conj(edges)).real / np.maximum(np.abs(edges) ** 2, 1e-18)
    return float(np.abs(offsets - np.clip(along, 0, 1) * edges).min(axis=1).max())
