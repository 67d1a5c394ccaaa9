"""Moves all bodies at once until they press each other no more, or no less than they must.

Overlap minimisation by a quasi-Newton method (Imamichi, Yagiura and Nagamochi 2009, "An iterated local search
algorithm based on nonlinear programming for the irregular strip packing problem"), here with limited memory
(Nocedal 1980) and depths taken from distance fields.
"""

from collections import deque

import numpy as np

from peekpaper.plan.bodies import Floats
from peekpaper.plan.contacts import Stage, Strain, find_contacts, strain
from peekpaper.steady import dot

MEMORY = 6
LONGEST_STEP_MM = 1.5
SUFFICIENT = 1e-4
SHORTER = 0.4


class Relaxation:
    """A descent from `poses` (n, 3) to poses of less strain, a few steps at a time.

    `poses` and `strain` are where it stands; `is_done` where it can't go on. No step is longer than
    `longest_mm`, and none is tried that is much shorter than a tenth of that.
    """

    def __init__(
        self, stage: Stage, weights: Floats, poses: Floats, longest_mm: float = LONGEST_STEP_MM
    ) -> None:
        self.poses = poses
        self.is_done = False
        self._stage = stage
        self._weights = weights
        self._longest = longest_mm
        self._contacts = find_contacts(stage, poses)
        self.strain = self._strain(poses)
        self._history: deque[tuple[Floats, Floats, float]] = deque(maxlen=MEMORY)

    def advance(self, steps: int, target: float) -> None:
        """Take at most so many steps, fewer where the energy falls below `target` or no step lowers it."""
        for _ in range(steps):
            if self.is_done:
                return
            self._step()
            self.is_done |= self.strain.energy <= target

    def _step(self) -> None:
        gradient = self._gradient(self.strain)
        direction = -_inverse_hessian_times(gradient, self._history)
        slope = dot(direction, gradient)
        if slope >= 0:
            self._history.clear()
            direction, slope = -gradient, -dot(gradient, gradient)
        longest = float(np.abs(direction).max())
        if longest == 0:
            self.is_done = True
            return
        length = min(1.0 if self._history else self._first_length(slope), self._longest / longest)
        for _ in range(4):
            trial = self.poses + (length * direction).reshape(self.poses.shape) * self._stage.freedom
            then = self._strain(trial)
            if then.energy <= self.strain.energy + SUFFICIENT * length * slope:
                break
            length *= SHORTER
        else:
            self.is_done = not self._history
            self._history.clear()
            return
        step, change = length * direction, self._gradient(then) - gradient
        curvature = dot(step, change)
        if curvature > 1e-12:
            self._history.append((step, change, 1.0 / curvature))
        self.poses, self.strain = trial, then

    def _first_length(self, slope: float) -> float:
        """Return the step along the gradient that would end all strain, were it linear (Polyak 1969)."""
        return self.strain.energy / -slope

    def _gradient(self, strain_there: Strain) -> Floats:
        return (strain_there.gradient * self._stage.freedom).ravel()

    def _strain(self, poses: Floats) -> Strain:
        stage = self._stage
        if self._contacts.are_stale(stage, poses):
            self._contacts = find_contacts(stage, poses)
        return strain(stage, self._contacts, self._weights, poses)


def _inverse_hessian_times(gradient: Floats, history: deque[tuple[Floats, Floats, float]]) -> Floats:
    """Return the gradient times the inverse Hessian that the last steps suggest (two-loop recursion)."""
    result = gradient.copy()
    factors = []
    for step, change, inverse in reversed(history):
        factor = inverse * dot(step, result)
        result -= factor * change
        factors.append(factor)
    if history:
        _, change, inverse = history[-1]
        result *= 1.0 / (inverse * dot(change, change))
    for (step, change, inverse), factor in zip(history, reversed(factors), strict=True):
        result += step * (factor - inverse * dot(change, result))
    return result
