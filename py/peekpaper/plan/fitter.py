"""Seeks the trim that pieces fill without gaps, as they do when they were cut from one rectangle."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely import Polygon

from peekpaper.grid import grown
from peekpaper.papers.paper import Direction
from peekpaper.plan.cell_fit import CellFit
from peekpaper.plan.cells import Cells, make_cells
from peekpaper.plan.close_fit import CloseFit
from peekpaper.plan.cluster import Match
from peekpaper.plan.fit import Fit
from peekpaper.plan.fit_frames import LONGEST, both_ways, exact_frames, loose_frames, straight_sided
from peekpaper.plan.improve import group_of
from peekpaper.plan.joined_fit import FitOfClusters, JoinedFit, MovedClusters
from peekpaper.plan.joining import Way
from peekpaper.plan.kit import Kit, make_kit
from peekpaper.plan.layout import Layout
from peekpaper.plan.loosen import Loosening
from peekpaper.plan.polish import TOLERANCE_MM
from peekpaper.plan.rectangle_fit import RectangleFit, upright_ways
from peekpaper.plan.rectangles import has_shape, round_up, sides, smaller_sizes
from peekpaper.plan.shape import Pose
from peekpaper.plan.sides import Exactness
from peekpaper.plan.task import PaperTask

MOST_CORNERS = 14
"""Pieces with more corners on average have curved sides, which no corner leads into place."""
MOST_PIECES = 90
MOST_LOST = 0.1
"""What part of the pieces' area may be lost between them for the fit to count as close."""
SCHEDULE = ((1, True), (4, True), (1, False), (16, True), (4, False), (64, True), (16, False), (200, True))
SCHEDULE_WITH_FEW_LENGTHS = (
    (1, True),
    (4, True),
    (16, True),
    (64, True),
    (1, False),
    (4, False),
    (200, True),
)
"""Breadths of the beam, for rectangles that may be the one cut up (True) or for loose ones."""
SCHEDULE_OF_ROUGH = ((1, True), (4, True), (1, False))
SCHEDULE_OF_JOINED = ((1, True), (4, True), (16, True))
EXACT = Exactness(0.04, 0.004, 0.1, 0.012, 0.4, 0.0002, 0.00005, None)
ROUGH = Exactness(0.2, 0.01, 0.35, 0.1, 0.45, 0.03, 0.005, 0.12)
BLUNT = Exactness(0.5, 0.02, 0.6, 0.2, 0.35, 0.06, 0.01, 0.12)
EXACT_BITS = (6.0, 0.0)
BOLDER_BITS = (6.0, 3.0, 0.0, -3.0)
JOINING = (
    Way(EXACT, EXACT_BITS),
    Way(ROUGH, BOLDER_BITS),
    Way(EXACT, EXACT_BITS),
    Way(EXACT, EXACT_BITS, 1),
    Way(EXACT, EXACT_BITS, 2),
    Way(ROUGH, BOLDER_BITS),
    Way(BLUNT, BOLDER_BITS),
    Way(ROUGH, BOLDER_BITS, 1),
    Way(ROUGH, BOLDER_BITS, 2),
    Way(BLUNT, BOLDER_BITS, 1),
)
"""Ways to join pieces, one after the other.

A way that comes again mistrusts those joints of before that nothing else bore out.
"""
FIRST_WAYS, LEAST_JOINED = 2, 0.8
"""After so many ways others are tried only where one left at most this part of the pieces' number."""
MOST_JOINED, STALE_ROUNDS = 0.5, 20
"""Where joining leaves at most this part of the pieces' number, what is joined is moved about, until so many
rounds bring nothing."""
NEAR_ENOUGH = 0.02
ROUGHLY = 0.7
"""Where pieces join to this part of what exact ones do, they are not exact."""
FEW_ROUNDS, MANY_ROUNDS = 12, 400
FEW_TRIES, MANY_TRIES = 16, 160
CELLS_OFF = 0.01
SIZES_TO_TRY = 12
CLOSE_ENOUGH = 0.004
MITRE = 10.0


class Fitter:
    """Works on one trim, round by round; `best` is the smallest so far, `is_done` when nothing is left."""

    def __init__(self, task: PaperTask, layout: Layout) -> None:
        self.best = layout
        self._task = task
        self._indices = sorted(layout.poses)
        self._kit = self._make_kit()
        self._is_rough = False
        self._fits = self._all_fits()
        self._taken: Mapping[int, Pose] | None = None
        self._fit = self._next_fit()

    @property
    def is_done(self) -> bool:
        """Tell whether all is tried."""
        return self._fit is None

    def round(self) -> Iterator[None]:
        """Work a little; yields to let the caller breathe."""
        if self._fit is None:
            return
        yield from self._fit.round()
        solution = self._fit.solution
        if solution is not None and solution is not self._taken:
            self._taken = solution
            yield from self._take(solution)
        if self._fit.is_done:
            yield
            self._fit = self._next_fit()
            yield

    def _make_kit(self) -> Kit:
        outlines, half = [], self._task.choices.spacing_mm / 2
        for index in self._indices:
            shape = self._task.shapes[index]
            outlines.append(
                Polygon(shapely.get_coordinates(shape.piece.outline.exterior) - np.array(shape.centre))
            )
        if half > 0:
            outlines = list(
                grown(np.array(outlines, dtype=object), half, 16, join_style="mitre", mitre_limit=MITRE)
            )
        return make_kit(outlines, self._task.paper.direction)

    def _next_fit(self) -> Fit | None:
        least = float(self._kit.areas.sum())
        if self._box_area(self.best.width_mm, self.best.height_mm) < least * (1 + CLOSE_ENOUGH):
            return None
        return next(self._fits, None)

    def _all_fits(self) -> Iterator[Fit]:
        if self.best.fixed or not 2 <= len(self._indices) <= MOST_PIECES:
            return
        yield from self._fits_of_cells(FEW_ROUNDS)
        yield from self._fits_of_rectangles(FEW_TRIES)
        has_few_lengths = bool(exact_frames(self._kit))
        if has_few_lengths:
            yield from self._close_fits(self._kit, SCHEDULE_WITH_FEW_LENGTHS)
        yield from self._joined_fits()
        if not has_few_lengths:
            yield from self._close_fits(self._kit, SCHEDULE_OF_ROUGH if self._is_rough else SCHEDULE)
        yield from self._fits_of_cells(MANY_ROUNDS)
        yield from self._fits_of_rectangles(MANY_TRIES)

    def _joined_fits(self) -> Iterator[Fit]:
        """Yield fits that join pieces, the surest first, then fits of what is joined best."""
        count = fewest = len(self._indices)
        best: JoinedFit | None = None
        moved: JoinedFit | None = None
        doubts: dict[Exactness, frozenset[Match]] = {}
        tried: set[Way] = set()
        for number, plain in enumerate(JOINING, start=1):
            if number > FIRST_WAYS and fewest > LEAST_JOINED * count:
                break
            way = replace(plain, doubts=doubts.get(plain.exactness, frozenset()))
            if way in tried:
                continue
            tried.add(way)
            joined = JoinedFit(self._kit, self._task.paper.direction, way)
            yield joined
            doubts[way.exactness] = joined.doubts
            if self._is_near():
                return
            clusters = len(joined.clusters)
            self._is_rough |= clusters < ROUGHLY * fewest and way.exactness is not EXACT
            if 1 < clusters < fewest:
                best, fewest = joined, clusters
            if number >= FIRST_WAYS and best is not moved and best and fewest <= MOST_JOINED * count:
                moved = best
                yield MovedClusters(self._task, best.kit, best.clusters, STALE_ROUNDS)
            if self._is_near():
                return
        if best is not None:
            for fit in self._close_fits(best.kit, SCHEDULE_OF_JOINED):
                yield FitOfClusters(fit, best.clusters)

    def _is_near(self) -> bool:
        """Tell whether little would be gained by joining pieces in other ways."""
        least = float(self._kit.areas.sum())
        return self._box_area(self.best.width_mm, self.best.height_mm) < least * (1 + NEAR_ENOUGH)

    def _close_fits(self, kit: Kit, schedule: Sequence[tuple[int, bool]]) -> Iterator[CloseFit]:
        if len(kit.rings) < 2 or not straight_sided(kit, MOST_CORNERS):
            return
        for breadth, is_likely in schedule:
            for wide, high in self._likely_frames(kit) if is_likely else self._loose_frames(kit):
                most = min(wide * high, float(kit.areas.sum()) * (1 + MOST_LOST))
                yield CloseFit(kit, self._task.paper.direction, (wide, high), most, breadth)

    def _fits_of_cells(self, rounds: int) -> Iterator[Fit]:
        """Yield fits into rectangles of squares by rising area, where the pieces are made of squares."""
        direction = self._task.paper.direction
        cells = make_cells(self._kit.rings, direction)
        if cells is None:
            return
        for columns, rows in self._frames_of_cells(cells):
            fit = CellFit(cells, columns, rows, rounds)
            if self._trim_area(columns * cells.cell_mm, rows * cells.cell_mm) < self.best.area_mm2:
                yield fit

    def _fits_of_rectangles(self, tries: int) -> Iterator[RectangleFit]:
        """Yield fits of rectangles into strips of likely widths, where the pieces are rectangles."""
        ways = upright_ways(self._kit, self._task.paper.direction)
        if ways is None:
            return
        over, least = self._overhang, float(self._kit.areas.sum())
        for width, highest in self._strips():
            most = min(highest, self.best.area_mm2 / (width + over) - over)
            if width * most > least:
                yield RectangleFit(ways, width, most, tries, self._task.choices.seed)

    def _strips(self) -> list[tuple[float, float]]:
        """Return widths to lay rectangles into, near-square first, and the heights there are; no margins."""
        choices, over = self._task.choices, self._overhang
        side = math.sqrt(float(self._kit.areas.sum()))
        strips = []
        for wide, high in self._task.room.boxes:
            if choices.trim_step_mm is None:
                ways = both_ways(loose_frames(self._kit))
                widths = [width for width, _ in ways if width <= wide - over]
            else:
                widths = [width - over for width in sides(wide, choices.trim_step_mm)]
            strips += [(width, high - over) for width in widths if side / LONGEST < width < side * LONGEST]
        return sorted(strips, key=lambda strip: (abs(math.log(strip[0] / side)), strip))

    def _frames_of_cells(self, cells: Cells) -> list[tuple[int, int]]:
        """Return columns and rows of rectangles that may hold all squares, the smallest trims first."""
        over, most = self._overhang, math.floor(cells.count * (1 + MOST_LOST) + 1e-6)
        frames = []
        for wide, high in self._task.room.boxes:
            for columns in range(1, math.floor((wide - over) / cells.cell_mm + CELLS_OFF) + 1):
                tallest = min(math.floor((high - over) / cells.cell_mm + CELLS_OFF), most // columns)
                frames += [(columns, rows) for rows in range(-(-cells.count // columns), tallest + 1)]
        if self._task.paper.direction is Direction.ANY:
            frames = [(columns, rows) for columns, rows in frames if columns >= rows]
        sizes = {
            frame: self._trim_area(frame[0] * cells.cell_mm, frame[1] * cells.cell_mm) for frame in frames
        }
        return sorted(sizes, key=lambda frame: (round(sizes[frame], 3), abs(frame[0] - frame[1]), frame))

    def _trim_area(self, width: float, height: float) -> float:
        """Return the area of the trim for a rectangle without margins."""
        over, step = self._overhang, self._task.choices.trim_step_mm
        wide, high = (round_up(side + over, side + over, step) for side in (width, height))
        return wide * high

    def _likely_frames(self, kit: Kit) -> list[tuple[float, float]]:
        """Return rectangles to fill, without margins: all of the sheet first, of which a corner is filled."""
        wide, high = self._task.room.boxes[0]
        whole = (wide - self._overhang, high - self._overhang)
        if self._task.choices.trim_step_mm is None:
            return [whole, *self._fitting(exact_frames(kit))]
        return [whole, *self._stepped_frames()]

    def _loose_frames(self, kit: Kit) -> list[tuple[float, float]]:
        if self._task.choices.trim_step_mm is None:
            return self._fitting(loose_frames(kit))
        return []

    def _stepped_frames(self) -> list[tuple[float, float]]:
        task, over = self._task, self._overhang
        best = (self.best.width_mm, self.best.height_mm)
        least = float(self._kit.areas.sum()) * (1 - CLOSE_ENOUGH)
        sizes = [
            (wide * high, wide, high)
            for wide, high in smaller_sizes(best, task.room, task.paper.direction, task.choices)
            if self._box_area(wide, high) >= least
        ]
        return [(wide - over, high - over) for _, wide, high in sorted(sizes)[:SIZES_TO_TRY]]

    def _fitting(self, frames: list[tuple[float, float]]) -> list[tuple[float, float]]:
        """Return the rectangles that the sheet has room for, both ways where the paper has a direction."""
        over = self._overhang
        boxes = [(wide - over + 0.01, high - over + 0.01) for wide, high in self._task.room.boxes]
        ways = frames if self._task.paper.direction is Direction.ANY else both_ways(frames)
        return [way for way in ways if any(way[0] <= box[0] and way[1] <= box[1] for box in boxes)]

    @property
    def _overhang(self) -> float:
        return 2 * self._task.choices.margin_mm - self._task.choices.spacing_mm

    def _box_area(self, width: float, height: float) -> float:
        return (width - self._overhang) * (height - self._overhang)

    def _take(self, solution: Mapping[int, Pose]) -> Iterator[None]:
        """Keep a solution if it makes a smaller trim, its pieces moved apart where they overlap by hairs."""
        choices, old = self._task.choices, self.best
        poses = {self._indices[number]: solution[number] for number in sorted(solution)}
        placed = self._placed(poses)
        if not keeps_apart(placed, choices.spacing_mm):
            left, top, right, bottom = shapely.total_bounds(placed)
            if (right - left) * (bottom - top) > old.area_mm2:
                return
            shapes = tuple(shape.with_all_nodes() for shape in self._task.shapes)
            group = group_of(replace(self._task, shapes=shapes), old)
            loosening = Loosening(group, list(poses.values()))
            yield from loosening.run()
            if loosening.solution is None:
                return
            poses = dict(zip(poses, loosening.solution, strict=True))
            placed = self._placed(poses)
        left, top, right, bottom = shapely.total_bounds(placed)
        dx, dy = choices.margin_mm - left, choices.margin_mm - top
        poses = {index: Pose(pose.x_mm + dx, pose.y_mm + dy, pose.turn_deg) for index, pose in poses.items()}
        for wide, high in self._task.room.boxes:
            width = round_up(float(right + dx) + choices.margin_mm, wide, choices.trim_step_mm)
            height = round_up(float(bottom + dy) + choices.margin_mm, high, choices.trim_step_mm)
            if (
                right + dx + choices.margin_mm <= wide + 1e-6
                and bottom + dy + choices.margin_mm <= high + 1e-6
                and width * height < old.area_mm2
                and has_shape(width, height, choices.trim_shape, choices.trim_step_mm)
            ):
                self.best = Layout(
                    old.id, old.paper, width, height, old.scrap, old.keeps_size, poses, old.fixed
                )
                return

    def _placed(self, poses: Mapping[int, Pose]) -> list[Polygon]:
        return [self._task.shapes[index].placed(pose).outline for index, pose in poses.items()]


def keeps_apart(outlines: list[Polygon], spacing_mm: float) -> bool:
    """Tell whether all outlines keep the spacing (to TOLERANCE_MM)."""
    distance = spacing_mm - TOLERANCE_MM
    if distance <= 0:
        outlines = list(grown(np.array(outlines, dtype=object), -TOLERANCE_MM / 2, 8))
    tree = shapely.STRtree(outlines)
    one, other = tree.query(outlines, predicate="dwithin", distance=max(distance, 0.0))
    return bool((one == other).all())
