"""One separation to lay all pieces of a group into a rectangle of given size.

Guided local search over overlaps, as Gardeyn and Wauters do for strips ("An open-source heuristic to reboot
2D nesting research", 2025): pairs that stay in conflict weigh more and more, and the bodies in the worst
conflicts are laid elsewhere. After that all bodies relax together.
"""

from collections.abc import Iterator

import numpy as np

from peekpaper.plan.overlap.descent import Descent
from peekpaper.plan.overlap.group import Group
from peekpaper.plan.overlap.penalty import PenaltyModel
from peekpaper.plan.overlap.placement import PlacementSearch
from peekpaper.plan.overlap.polish import Polish
from peekpaper.plan.shapes.sample_points import Floats
from peekpaper.plan.shapes.shape import Pose
from peekpaper.plan.shapes.turns import turns_allowed

TURNS, TURNS_OF_FEW, VERY_FEW = 16, 48, 8
"""At how many turns places are sought for a body: at more where there are very few bodies."""
SKIN_MM = 1.6
"""Contacts are kept until bodies have come nearer by this (Verlet 1967): about one longest step."""
STEPS = 30
"""How many steps of the descent a round takes at most (by trial)."""
MOST_STEPS_AT_ONCE = 10
"""Steps between two breaths at most."""
BODY_STEPS_AT_ONCE = 300
"""Steps times bodies between two breaths: some hundredths of a second on a tablet."""
GOOD_ENOUGH_MM = 0.05
"""Where no overlap is deeper, polishing may end them all."""
MOVES = 12
"""How many bodies are laid elsewhere in a round at most (by trial)."""
NEGLIGIBLE_MM = 0.02
"""Pairs that overlap no deeper are not in conflict."""
PATIENCE = 12
"""After so many rounds without progress (and more for many bodies) all is shaken up."""
FEW, EXCHANGED = 16, 3
"""Up to FEW bodies are at times all thrown about anew; else an eighth, or EXCHANGED, change places."""
LEAST_GROWTH, MOST_GROWTH, DECAY = 1.2, 2.0, 0.95
"""By what factors weights of pairs grow, by depth, while in conflict, and shrink while not
(Gardeyn and Wauters 2025 have 1.2, 2.0 and 0.95, from memory)."""
HEAVIEST = 1e4
"""Where a weight is larger, all are scaled down: ratios matter alone."""


class Separation:
    """A separation that goes on round by round; `solution` holds the poses once all pieces lie free.

    `rounds` counts the rounds so far, `depth_mm` is the sum of all depths after the last one.
    """

    def __init__(
        self,
        group: Group,
        size_mm: tuple[float, float],
        poses: Floats,
        placements: PlacementSearch,
        seed: int,
    ) -> None:
        self.size_mm = size_mm
        self.solution: list[Pose] | None = None
        self.rounds = 0
        self.depth_mm = np.inf
        self._group = group
        self._frame = group.frame(*size_mm)
        self._model = PenaltyModel(group.bodies, group.fields, self._frame, group.freedom, SKIN_MM)
        self._placements = placements
        self._poses = poses
        self._weights = np.ones((len(poses), len(poses)))
        self._best = poses
        self._least_depth = np.inf
        self._stale_rounds = 0
        self._random = np.random.default_rng(seed)

    def round(self) -> Iterator[None]:
        """Relax, then lay the worst bodies elsewhere if need be; yields to let the caller breathe."""
        self.rounds += 1
        descent = Descent(self._model, self._weights, self._poses)
        at_once = max(1, min(MOST_STEPS_AT_ONCE, BODY_STEPS_AT_ONCE // len(self._poses)))
        for _ in range(0, STEPS, at_once):
            descent.advance(at_once, GOOD_ENOUGH_MM**2 / 10)
            yield
            if descent.is_done:
                break
        self._poses = descent.poses
        depths = descent.penalty.depths(self._group.bodies)
        self.depth_mm = float(np.triu(depths).sum())
        if depths.max() < GOOD_ENOUGH_MM:
            last = Polish(self._group, self._frame, self._poses)
            while not last.is_done:
                last.advance()
                yield
            self.solution = last.found()
            if self.solution is not None:
                return
            self._poses, depths = last.poses, last.depths()
        self._remember()
        if self._stale_rounds > PATIENCE + len(self._poses):
            self._shake()
            return
        self._weigh(depths)
        yield from self._lay_elsewhere(depths)

    def _remember(self) -> None:
        """Keep the best poses since the last shake, and count rounds that found no better ones."""
        self._stale_rounds += 1
        if self.depth_mm < self._least_depth:
            self._least_depth, self._best, self._stale_rounds = self.depth_mm, self._poses, 0

    def _shake(self) -> None:
        """Go on from elsewhere: from poses at random, or from the best ones with some bodies exchanged."""
        poses = self._best.copy()
        free = np.nonzero(self._group.freedom[:, 0] > 0)[0]
        if len(free) <= FEW and self._random.random() < 0.5:
            frame = self._frame
            poses[free, 0] = self._random.uniform(frame.left, frame.right, len(free))
            poses[free, 1] = self._random.uniform(frame.top, frame.bottom, len(free))
        else:
            moved = self._random.permutation(free)[: max(EXCHANGED, len(free) // 8)]
            poses[moved, :2] = poses[np.roll(moved, 1), :2]
        self._poses = poses
        self._weights[:] = 1.0
        self._least_depth, self._stale_rounds = np.inf, 0

    def _weigh(self, depths: Floats) -> None:
        deepest = max(float(depths.max()), 1e-9)
        growth = LEAST_GROWTH + (MOST_GROWTH - LEAST_GROWTH) * depths / deepest
        self._weights *= np.where(depths > NEGLIGIBLE_MM, growth, DECAY)
        heaviest = self._weights.max()
        if heaviest > HEAVIEST:
            self._weights *= 0.1
        np.maximum(self._weights, 1.0, out=self._weights)

    def _lay_elsewhere(self, depths: Floats) -> Iterator[None]:
        press = (self._weights * depths).sum(axis=1) * (self._group.freedom[:, 0] > 0)
        noise = self._random.uniform(0.5, 1.0, len(press))
        worst = np.argsort(-press * noise, kind="stable")[:MOVES]
        poses = self._poses.copy()
        all_depths = self._placements.depths(poses, self._frame)
        for body in worst[press[worst] > 0].tolist():
            field = all_depths.round_others(body, self._weights)
            poses[body] = self._placements.best_place(body, poses[body], field, self._frame)
            all_depths = self._placements.depths_after_move(all_depths, body, poses[body], self._frame)
            yield
        self._poses = poses


def make_placement_search(group: Group, size_mm: tuple[float, float]) -> PlacementSearch:
    """Return a placements for trims of up to that size."""
    count = TURNS_OF_FEW if len(group.shapes) <= VERY_FEW else TURNS
    turns = [turns_allowed(group.direction, count, shape.upright_deg) for shape in group.shapes]
    return PlacementSearch(group.shapes, group.fields, turns, group.frame(*size_mm))
