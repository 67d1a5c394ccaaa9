"""Which pieces may take one another's place when gluing."""

from collections import defaultdict
from collections.abc import Iterable, Sequence

import numpy as np
import shapely
from shapely import Polygon

from peekpaper.backing.backing import Piece
from peekpaper.design.design import Design
from peekpaper.papers.paper import Direction, Paper
from peekpaper.sheets.outline import Floats

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


def _groups(family: Sequence[Piece], turns: tuple[float, ...] | None) -> list[list[int]]:
    """Return the numbers of pieces whose outlines match the first of their group."""
    groups: list[tuple[Polygon, list[int]]] = []
    for piece in family:
        centred = _centred(piece.outline)
        for first, numbers in groups:
            if _match(first, centred, turns):
                numbers.append(piece.number)
                break
        else:
            groups.append((centred, [piece.number]))
    return [numbers for _, numbers in groups]


def _centred(outline: Polygon) -> Polygon:
    middle = shapely.get_coordinates(outline.centroid)[0]
    return shapely.transform(outline, lambda points: points - middle)


def _match(one: Polygon, other: Polygon, turns: tuple[float, ...] | None) -> bool:
    if abs(one.area - other.area) > TOLERANCE_MM * max(one.length, other.length):
        return False
    angles = (_best_turn(one, other),) if turns is None else turns
    return any(_distance(one, _turned(other, angle)) <= TOLERANCE_MM for angle in angles)


def _turned(shape: Polygon, angle: float) -> Polygon:
    cosine, sine = np.cos(angle), np.sin(angle)
    matrix = np.array([[cosine, -sine], [sine, cosine]])
    return shapely.transform(shape, lambda points: points @ matrix.T)


def _distance(one: Polygon, other: Polygon) -> float:
    return float(shapely.hausdorff_distance(one.exterior, other.exterior, densify=0.02))


def _best_turn(one: Polygon, other: Polygon) -> float:
    """Return the turn that lays `other` on `one`, from the correlation of points along their outlines."""
    first, second = _along(one), _along(other)
    correlation = np.fft.ifft(np.fft.fft(first) * np.conj(np.fft.fft(second)))
    return float(np.angle(correlation[np.argmax(np.abs(correlation))]))


def _along(shape: Polygon) -> Floats:
    """Return points at equal steps along the outline, the same way round for all, as complex numbers."""
    ring = shapely.get_coordinates(shapely.normalize(shape).exterior)
    lengths = np.append(0.0, np.cumsum(np.hypot(*np.diff(ring, axis=0).T)))
    at = np.linspace(0, lengths[-1], _SAMPLES, endpoint=False)
    return np.interp(at, lengths, ring[:, 0]) + 1j * np.interp(at, lengths, ring[:, 1])
