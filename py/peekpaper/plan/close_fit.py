"""Fits straight-sided pieces together like a puzzle: corner into corner, edge along edge.

Pieces that were cut from one rectangle leave no gap when they are laid back, and such places are points
that a search over rasters misses. Here every place tried puts a corner of a piece into a corner of the room
that is left, with an edge along an edge (touching placements, as Burke, Hellier, Kendall and Whitwell 2006
make them in "A new bottom-left-fill heuristic algorithm for the two-dimensional irregular packing problem"),
and a beam search (Bennell and Song 2010, "A beam search implementation for the irregular shape packing
problem") keeps the best beginnings.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from peekpaper.grid import one_grown
from peekpaper.papers.paper import Direction
from peekpaper.plan.bodies import Floats
from peekpaper.plan.corners import Corners, make_corners
from peekpaper.plan.kit import SAME_ANGLE, SAME_MM, Kit
from peekpaper.plan.shape import Pose
from peekpaper.steady import cosines_and_sines, turned

OVERLAP_MM = 0.005
CRACK_MM = 0.02
"""Cracks of the room narrower than twice this are closed."""
LOOKED_AT = 32
LEAST_CHILDREN, FEW_PIECES_CHILDREN = 8, 160
ROUGH = 0.002
"""By what part of the area sums of areas may be off."""
MOST_TO_SUM = 10
MITRE = 30.0
STATES_AT_ONCE = 2


Mark = tuple[int, int, int, int, int]
"""A kind of piece and, roughly, the box that it covers: the same for alike pieces in one place."""


@dataclass(frozen=True, slots=True)
class _State:
    """Some pieces laid: their poses, the room that is left, what of it is lost, how well all fits so far."""

    poses: tuple[tuple[int, Pose], ...]
    marks: frozenset[Mark]
    room: tuple[Polygon, ...]
    lost_mm2: float
    fit: float
    right: float = 0.0
    bottom: float = 0.0


@dataclass(frozen=True, slots=True)
class _Places:
    """Places to look at: piece, turn (radians), position and corner of the room, best first."""

    piece: NDArray[np.intp]
    turn: Floats
    x: Floats
    y: Floats
    corner: NDArray[np.intp]
    merit: Floats


class CloseFit:
    """A beam search for one way to fit all pieces into a rectangle from its top left corner on.

    `solution` holds the poses by index once it is found. The rectangle is `width` x `height`; pieces may
    leave up to `spare_mm2` lost between them, and their common box may take up to `most_mm2`.
    """

    def __init__(
        self, kit: Kit, direction: Direction, size: tuple[float, float], most_mm2: float, breadth: int
    ) -> None:
        self.solution: dict[int, Pose] | None = None
        self._kit = kit
        self._direction = direction
        self._size = size
        self._most = most_mm2
        self._breadth = breadth
        area = float(kit.areas.sum())
        self._spare = most_mm2 - area * (1 - ROUGH)
        self._is_exact = size[0] * size[1] < area * (1 + ROUGH)
        self._children_kept = max(LEAST_CHILDREN, FEW_PIECES_CHILDREN // len(kit.rings))
        self._states = [_State((), frozenset(), (shapely.box(0, 0, *size),), 0.0, 0.0)]
        self._depth = 0

    @property
    def is_done(self) -> bool:
        """Tell whether a way was found, or none is left."""
        return self.solution is not None or not self._states

    def round(self) -> Iterator[None]:
        """Lay one more piece in every beginning; yields to let the caller breathe."""
        children: dict[frozenset[Mark], _State] = {}
        for count, state in enumerate(self._states):
            for child in self._children(state):
                if child.marks not in children or children[child.marks].fit < child.fit:
                    children[child.marks] = child
            if count % STATES_AT_ONCE == STATES_AT_ONCE - 1:
                yield
        self._states = sorted(children.values(), key=lambda state: -state.fit)[: self._breadth]
        self._depth += 1
        if self._depth == len(self._kit.rings) and self._states:
            self.solution = dict(self._states[0].poses)

    def _children(self, state: _State) -> list[_State]:
        room = make_corners(state.room)
        laid = {index for index, _ in state.poses}
        places = self._places(room, laid, is_first=not laid)
        if not len(places.piece):
            return []
        whole = shapely.union_all(state.room)
        loose = one_grown(whole, OVERLAP_MM, join_style="mitre", mitre_limit=MITRE)
        shapely.prepare(loose)
        outlines, fits = self._outlines(places, np.arange(min(LOOKED_AT, len(places.piece))), loose)
        if not fits.any():
            return []
        chosen = places.corner[int(np.argmax(fits))]
        at_corner = np.nonzero(places.corner == chosen)[0][: 2 * LOOKED_AT]
        outlines, fits = self._outlines(places, at_corner, loose)
        most = self._children_kept if laid else LOOKED_AT
        children: dict[Mark, _State | None] = {}
        for place, outline in zip(at_corner[fits].tolist(), outlines[fits], strict=True):
            mark = self._mark(int(places.piece[place]), outline)
            if mark not in children and len(children) < most:
                children[mark] = self._child(state, places, place, outline, mark)
        return [child for child in children.values() if child is not None]

    def _mark(self, index: int, outline: Polygon) -> Mark:
        left, top, right, bottom = (round(side) for side in outline.bounds)
        return self._kit.kinds[index], left, top, right, bottom

    def _outlines(
        self, places: _Places, chosen: NDArray[np.intp], room: shapely.Geometry
    ) -> tuple[NDArray[np.object_], NDArray[np.bool_]]:
        outlines = np.array(
            [
                Polygon(turned(self._kit.rings[piece], turn) + np.array([x, y]))
                for piece, turn, x, y in zip(
                    places.piece[chosen].tolist(), places.turn[chosen], places.x[chosen], places.y[chosen],
                    strict=True,
                )
            ]
        )  # fmt: skip
        return outlines, shapely.covers(room, outlines)

    def _child(
        self, state: _State, places: _Places, place: int, outline: Polygon, mark: Mark
    ) -> _State | None:
        index = int(places.piece[place])
        right, bottom = (
            max(pair) for pair in zip((state.right, state.bottom), outline.bounds[2:], strict=True)
        )
        left = np.delete(self._kit.areas, [index, *(laid for laid, _ in state.poses)])
        parts, lost, length = [], state.lost_mm2, outline.length
        before = after = 0.0
        for part in state.room:
            before += part.length
            rest = shapely.difference(part, outline)
            wide = one_grown(rest, -CRACK_MM, join_style="mitre", mitre_limit=MITRE)
            clean = one_grown(wide, CRACK_MM, join_style="mitre", mitre_limit=MITRE)
            for polygon in shapely.get_parts(clean):
                after += polygon.length
                if len(left) and polygon.area >= left.min() * (1 - ROUGH):
                    parts.append(polygon)
                elif len(left):
                    lost += polygon.area
        if (
            lost + _unfillable(self._bounded(parts), left) > self._spare + 1e-6
            or right * bottom > self._most + 1e-6
        ):
            return None
        contact = (before + length - after) / 2
        fit = state.fit + contact / length + 0.25 * float(places.merit[place])
        turn = float(np.degrees(places.turn[place])) % 360.0
        nearest = round(turn / 90.0) * 90.0
        turn = nearest % 360.0 if abs(turn - nearest) < 1e-7 else turn
        pose = Pose(float(places.x[place]), float(places.y[place]), turn)
        return _State(
            (*state.poses, (index, pose)), state.marks | {mark}, tuple(parts), lost, fit, right, bottom
        )

    def _bounded(self, parts: Sequence[Polygon]) -> list[Polygon]:
        """Return the parts that must be filled: in a rectangle larger than allowed, those amid pieces."""
        width, height = self._size
        if width * height <= self._most * (1 + ROUGH):
            return list(parts)
        return [part for part in parts if part.bounds[2] < width - 0.1 and part.bounds[3] < height - 0.1]

    def _places(self, room: Corners, laid: set[int], is_first: bool) -> _Places:
        """Return all corners of pieces in all corners of the room, at both turns, the promising first."""
        own = self._kit.corners
        width, height = self._size
        open_corner = room.angle < np.pi - SAME_ANGLE
        if not self._is_exact:
            open_corner &= (room.x < width - 0.1) & (room.y < height - 0.1)
        if is_first:
            open_corner &= (room.x < 0.1) & (room.y < 0.1)
        j = np.nonzero(open_corner)[0]
        left = [index for index in range(len(self._kit.rings)) if index not in laid]
        firsts = {self._kit.kinds[index]: index for index in reversed(left)}
        k = np.nonzero(np.isin(own.owner, list(firsts.values())))[0]
        j, k = (grid.ravel() for grid in np.meshgrid(j, k, indexing="ij"))
        slack = room.angle[j] - own.angle[k]
        fits = slack > -SAME_ANGLE
        j, k, slack = j[fits], k[fits], slack[fits]
        whole = np.abs(slack) < SAME_ANGLE
        on, on_ends, on_meets = _along(
            room.length_out[j], own.length_out[k], room.angle[room.after[j]], own.angle[own.after[k]]
        )
        back, back_ends, back_meets = _along(
            room.length_in[j], own.length_in[k], room.angle[room.before[j]], own.angle[own.before[k]]
        )
        length = self._kit.lengths[own.owner[k]]
        both = whole & (on >= 0) & (back >= 0)
        sides = []
        for contact, ends, meets, turn in (
            (on, on_ends, on_meets, room.direction_out[j] - own.direction_out[k]),
            (back, back_ends, back_meets, room.direction_in[j] - own.direction_in[k]),
        ):
            is_out = contact is on
            usable = (contact >= 0) & (~whole | (both & is_out))
            merit = np.where(
                both,
                1.0 + on_ends + back_ends + 0.5 * (on_meets + back_meets) + (on + back) / length,
                ends + 0.5 * meets + contact / length,
            )
            usable &= self._is_allowed(turn)
            sides.append((j[usable], k[usable], turn[usable], merit[usable]))
        j, k, turn, merit = (np.concatenate(part) for part in zip(*sides, strict=True))
        if self._direction is not Direction.ANY:
            turn = np.round(turn / np.pi) * np.pi
        cosine, sine = cosines_and_sines(turn)
        x = room.x[j] - (cosine * own.x[k] - sine * own.y[k])
        y = room.y[j] - (sine * own.x[k] + cosine * own.y[k])
        order = np.lexsort((x + y, own.owner[k], -np.round(merit, 6)))
        return _Places(own.owner[k][order], turn[order], x[order], y[order], j[order], merit[order])

    def _is_allowed(self, turn: Floats) -> NDArray[np.bool_]:
        match self._direction:
            case Direction.ANY:
                return np.ones(len(turn), bool)
            case Direction.ONE_WAY:
                return np.abs((turn + np.pi) % (2 * np.pi) - np.pi) < SAME_ANGLE
            case Direction.TWO_WAY:
                return np.abs((turn + np.pi / 2) % np.pi - np.pi / 2) < SAME_ANGLE


def _unfillable(parts: Sequence[Polygon], left: Floats) -> float:
    """Return a lower bound of what must be lost in parts of the room, by the areas of pieces left."""
    if not 0 < len(left) <= MOST_TO_SUM or len(parts) < 2:
        return 0.0
    sums = np.zeros(1)
    for area in left:
        sums = np.concatenate([sums, sums + area])
    sums.sort()
    areas = np.array([part.area for part in parts])
    best = sums[np.searchsorted(sums, areas * (1 + ROUGH), side="right") - 1]
    return float(np.maximum(areas - best, 0.0).sum())


def _along(room: Floats, own: Floats, room_angle: Floats, own_angle: Floats) -> tuple[Floats, Floats, Floats]:
    """Return how long an edge lies along the room's edge (-1 where it can't), whether both end together,
    and whether the corners where they end are alike.
    """
    ends = np.abs(room - own) < SAME_MM
    sticks_out = ~ends & (own > room) & (room_angle < np.pi - SAME_ANGLE)
    sticks_out |= ends & (own_angle > room_angle + SAME_ANGLE)
    meets = ends & (np.abs(room_angle - own_angle) < SAME_ANGLE)
    return np.where(sticks_out, -1.0, np.minimum(room, own)), ends.astype(float), meets.astype(float)
