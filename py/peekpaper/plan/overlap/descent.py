"""Moves all bodies at once until they press each other no more, or no less than they must.

Overlap minimisation by a quasi-Newton method (Imamichi, Yagiura and Nagamochi 2009, "An iterated local search
algorithm based on nonlinear programming for the irregular strip packing problem"), here with limited memory
(Nocedal 1980) and depths taken from distance fields.
"""

from collections import deque

import numpy as np

from peekpaper.geometry.elementary import inner_product
from peekpaper.plan.overlap.penalty import Penalty, PenaltyModel, find_contacts, penalty_at
from peekpaper.plan.shapes.sample_points import Floats

MEMORY = 6
"""From how many steps the inverse Hessian is taken: 3 to 20 are usual (Nocedal and Wright, from memory)."""
LONGEST_STEP_MM = 1.5
"""No body moves further in one step: slopes of the fields say nothing of what is further off."""
SUFFICIENT = 1e-4
"""What part of the decrease that the slope promises a step must bring (Armijo 1966; 1e-4 is usual)."""
SHORTER = 0.4
"""By what factor a step that does not bring enough is shortened (by trial)."""


class Descent:
    """A descent from `poses` (n, 3) to poses of less penalty, a few steps at a time.

    `poses` and `penalty` are where it stands; `is_done` where it can't go on. No step is longer than
    `longest_mm`, and none is tried that is much shorter than a tenth of that.
    """

    def __init__(
        self, model: PenaltyModel, weights: Floats, poses: Floats, longest_mm: float = LONGEST_STEP_MM
    ) -> None:
        self.poses = poses
        self.is_done = False
        self._model = model
        self._weights = weights
        self._longest = longest_mm
        self._contacts = find_contacts(model, poses)
        self.penalty = self._penalty_at(poses)
        self._history: deque[tuple[Floats, Floats, float]] = deque(maxlen=MEMORY)

    def advance(self, steps: int, target: float) -> None:
        """Take at most so many steps, fewer where the energy falls below `target` or no step lowers it."""
        for _ in range(steps):
            if self.is_done:
                return
            self._step()
            self.is_done |= self.penalty.energy <= target

    def _step(self) -> None:
        gradient = self._gradient(self.penalty)
        direction = -_inverse_hessian_times(gradient, self._history)
        slope = inner_product(direction, gradient)
        if slope >= 0:
            self._history.clear()
            direction, slope = -gradient, -inner_product(gradient, gradient)
        longest = float(np.abs(direction).max())
        if longest == 0:
            self.is_done = True
            return
        length = min(1.0 if self._history else self._first_length(slope), self._longest / longest)
        for _ in range(4):
            trial = self.poses + (length * direction).reshape(self.poses.shape) * self._model.freedom
            then = self._penalty_at(trial)
            if then.energy <= self.penalty.energy + SUFFICIENT * length * slope:
                break
            length *= SHORTER
        else:
            self.is_done = not self._history
            self._history.clear()
            return
        step, change = length * direction, self._gradient(then) - gradient
        curvature = inner_product(step, change)
        if curvature > 1e-12:
            self._history.append((step, change, 1.0 / curvature))
        self.poses, self.penalty = trial, then

    def _first_length(self, slope: float) -> float:
        """Return the step along the gradient that would end all overlap, were it linear (Polyak 1969)."""
        return self.penalty.energy / -slope

    def _gradient(self, penalty_there: Penalty) -> Floats:
        return (penalty_there.gradient * self._model.freedom).ravel()

    def _penalty_at(self, poses: Floats) -> Penalty:
        model = self._model
        if self._contacts.are_stale(model, poses):
            self._contacts = find_contacts(model, poses)
        return penalty_at(model, self._contacts, self._weights, poses)


def _inverse_hessian_times(gradient: Floats, history: deque[tuple[Floats, Floats, float]]) -> Floats:
    """Return the gradient times the inverse Hessian that the last steps suggest (two-loop recursion)."""
    result = gradient.copy()
    factors = []
    for step, change, inverse in reversed(history):
        factor = inverse * inner_product(step, result)
        result -= factor * change
        factors.append(factor)
    if history:
        _, change, inverse = history[-1]
        result *= 1.0 / (inverse * inner_product(change, change))
    for (step, change, inverse), factor in zip(history, reversed(factors), strict=True):
        result += step * (factor - inverse * inner_product(change, result))
    return result
