"""Which pieces may take one another's place when gluing."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.backing.backing import Backing, Piece
from peekpaper.design.design import Design
from peekpaper.geometry.affine import moved
from peekpaper.geometry.congruence import Shape, fits, shape_of, turns
from peekpaper.geometry.outline import Floats
from peekpaper.geometry.overlay import difference, intersection, union, union_all
from peekpaper.papers.paper import Direction, Paper

_SLACK_MM = 0.05
"""By how much a lip may fall short and a piece overlap another: less than a hair (about 0.07 mm)."""

_REACH_MM = 3.0
"""How far around a piece its surroundings are looked at."""

_PLAIN_MM = 0.01
"""Nodes that move an outline by less are left out: a fifth of the slack."""

_SLIVER_MM = 0.001
"""Detail that areas laid on one another hundreds of times gather along edges that nearly coincide."""

_ALLOWED_TURNS = {Direction.ONE_WAY: (0.0,), Direction.TWO_WAY: (0.0, np.pi)}
"""By direction, the turns in radians that keep a pattern the right way up; any turn where none is listed."""


def interchangeable(
    design: Design, backing: Backing, papers: Iterable[Paper], least_lip: float
) -> dict[int, tuple[int, ...]]:
    """Return the numbers of the other pieces that may take each piece's place, by its number.

    Such pieces are of the same paper and behind alike openings. Each of them, laid on any of these openings
    by a turn that the paper's direction allows, covers it with the least lip (in mm, or with what the pieces
    have where that is less) and touches no other piece and no other opening. Never mirrored: a paper has a
    face.
    """
    directions = {paper.id: paper.direction for paper in papers}
    alike = {opening.number: opening.alike for opening in design.openings}
    families: dict[tuple[str, int], list[Piece]] = defaultdict(list)
    for piece in backing.pieces:
        if len(piece.openings) == 1:
            families[piece.paper, alike[piece.number]].append(piece)
    surroundings = _Surroundings(design, backing)
    others: dict[int, tuple[int, ...]] = {piece.number: () for piece in backing.pieces}
    for (paper, _), family in families.items():
        allowed = _ALLOWED_TURNS.get(directions.get(paper, Direction.ANY))
        for numbers in _groups(family, surroundings, allowed, least_lip) if len(family) > 1 else ():
            for number in numbers:
                others[number] = tuple(other for other in numbers if other != number)
    return others


def _plain(outline: Polygon) -> Polygon:
    """Return an outline without the detail that does not matter here."""
    plain: Polygon = shapely.simplify(outline, _PLAIN_MM, preserve_topology=False)
    return plain if plain.is_valid else outline


class _Surroundings:
    """What a piece in each place must not touch."""

    def __init__(self, design: Design, backing: Backing) -> None:
        self.openings = {opening.number: _plain(opening.area) for opening in design.openings}
        owners = [opening.number for opening in design.openings] + [piece.number for piece in backing.pieces]
        self._owners = np.array(owners)
        self._shapes = np.array(
            [*self.openings.values(), *(_plain(piece.outline) for piece in backing.pieces)], dtype=object
        )
        self._tree = shapely.STRtree(self._shapes)
        self._outside = union_all([Polygon(part.exterior) for part in design.card.geoms])
        shapely.prepare(self._outside)

    def free(self, piece: Piece) -> BaseGeometry:
        """Return the area around a piece's place that nothing else takes."""
        around: BaseGeometry = shapely.buffer(_plain(piece.outline), _REACH_MM, quad_segs=2)
        near = self._tree.query(around)
        taken = self._shapes[near[self._owners[near] != piece.number]]
        if not self._outside.contains(around):
            around = intersection(around, self._outside)
        return difference(around, union_all(taken))


@dataclass(slots=True)
class _Group:
    """Interchangeable pieces, all laid on the place of the first: what they cover at most and at least."""

    numbers: list[int]
    opening: Shape
    area: Polygon
    lip: float
    free: BaseGeometry
    most: BaseGeometry
    least: BaseGeometry

    def joined(self, piece: Piece, free: BaseGeometry, lip: float, matrix: Floats) -> "_Group | None":
        """Return the group with a piece that `matrix` lays on the place of the first, or None."""

        def laid(shape: BaseGeometry) -> BaseGeometry:
            return shapely.transform(shape, lambda points: moved(points, matrix))

        outline = laid(_plain(piece.outline))
        free = shapely.simplify(intersection(self.free, laid(free)), _SLIVER_MM)
        most, least = union(self.most, outline), intersection(self.least, outline)
        lip = min(self.lip, lip)
        if not shapely.buffer(free, _SLACK_MM, quad_segs=2).contains(most):
            return None
        if not least.contains(shapely.buffer(self.area, max(lip - _SLACK_MM, 0), quad_segs=8)):
            return None
        return _Group([*self.numbers, piece.number], self.opening, self.area, lip, free, most, least)


def _groups(
    family: Sequence[Piece], surroundings: _Surroundings, allowed: tuple[float, ...] | None, least_lip: float
) -> list[list[int]]:
    groups: list[_Group] = []
    for piece in family:
        area = surroundings.openings[piece.number]
        opening, free = shape_of(area), surroundings.free(piece)
        plain, lip = _plain(piece.outline), min(least_lip, piece.lip_min_mm)
        for index, group in enumerate(groups):
            angles = turns(group.opening, opening) if allowed is None else allowed
            matrices = [
                _laying(group.opening, opening, angle)
                for angle in angles
                if allowed is None or fits(group.opening, opening, angle)
            ]
            joined = next(filter(None, (group.joined(piece, free, lip, matrix) for matrix in matrices)), None)
            if joined is not None:
                groups[index] = joined
                break
        else:
            groups.append(_Group([piece.number], opening, area, lip, free, plain, plain))
    return [group.numbers for group in groups]


def _laying(one: Shape, other: Shape, angle: float) -> Floats:
    """Return the matrix that turns `other` by `angle` and lays its middle on that of `one`."""
    cosine, sine = np.cos(angle), np.sin(angle)
    turn = np.array([[cosine, -sine], [sine, cosine]])
    return np.column_stack([turn, one.middle - turn @ other.middle])
