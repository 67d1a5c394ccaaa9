"""How strongly each px shows the card, evened for uneven light.

What a camera sees is what a surface sends back times the light that falls on it. The light changes slowly
over a sheet: its logarithm is taken for a polynomial in x and y, fitted by least squares together with the
brightness of the two sides, while the split of the px into sides is made anew from what is evened (Wells,
Grimson, Kikinis and Jolesz, "Adaptive segmentation of MRI data", IEEE Transactions on Medical Imaging, 1996,
alternate so, with a smoother in the polynomial's place).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Grey = NDArray[np.float32]
Shares = NDArray[np.float64]

_SIDE = 256
"""Px along the longer side of the copy that light is judged on: it has no more detail than that."""
# Of x and y, up to the third.
_POWERS = tuple((x, y) for x in range(4) for y in range(4 - x))
_ROUNDS = 8
"""The split settles within a few rounds; each costs a few milliseconds."""
_DARKEST = 4.0
"""Values below it are noise of the sensor, and their logarithm would outweigh all else."""
_EVEN = 0.06
"""Light that varies by less than this, as a logarithm, is even: scans and drawings stay as they are."""


@dataclass(frozen=True, slots=True, eq=False)
class Light:
    """The light over a picture, about 1: `factors` of the polynomial of its logarithm, all 0 where even."""

    factors: Shares

    def over(self, rows: slice, height: int, width: int) -> Grey:
        """Return the light on some rows of the picture, shape (rows, width)."""
        x, y = _places(width), _places(height)[rows]
        across = np.stack([x**power for power in range(4)])
        down = np.zeros((len(y), 4))
        for factor, (power_x, power_y) in zip(self.factors, _POWERS, strict=True):
            down[:, power_x] += factor * y**power_y
        light: Grey = np.exp(down.astype(np.float32) @ across.astype(np.float32))
        return light

    @property
    def is_even(self) -> bool:
        """Whether there is nothing to even out."""
        return not self.factors.any()


def light_over(grey: Grey, within: NDArray[np.bool_]) -> Light:
    """Return the light over a picture's grey values, 0 to 255, judged by the px `within` (the same shape)."""
    step = max(1, -(-max(grey.shape) // _SIDE))
    rows, columns = slice(step // 2, None, step), slice(step // 2, None, step)
    chosen = within[rows, columns].ravel()
    if chosen.sum() < 4 * len(_POWERS):
        return Light(np.zeros(len(_POWERS)))
    x, y = np.meshgrid(_places(grey.shape[1])[columns], _places(grey.shape[0])[rows])
    terms = np.stack([x**power_x * y**power_y for power_x, power_y in _POWERS], axis=-1).reshape(
        -1, len(_POWERS)
    )
    terms = terms[chosen]
    seen = np.log(np.maximum(grey[rows, columns].ravel()[chosen], _DARKEST)).astype(np.float64)
    factors = np.zeros(len(_POWERS))
    for _ in range(_ROUNDS):
        evened = seen - terms @ factors
        bright = evened > split(evened, evened.min(), evened.max())
        known = np.column_stack([terms[:, 1:], bright, ~bright])
        weight = np.where(bright, 1.0, _trust(seen, bright))
        weighed = known * weight[:, None]
        # Either side may be missing; what nothing tells of stays 0.
        normal = weighed.T @ known + 1e-9 * len(known) * np.eye(known.shape[1])
        solved = np.linalg.solve(normal, weighed.T @ seen)
        factors = np.append(0.0, solved[: len(_POWERS) - 1])
    spread = np.ptp(np.percentile(terms @ factors, (2, 98)))
    return Light(factors if spread > _EVEN else np.zeros(len(_POWERS)))


def _trust(seen: Shares, bright: NDArray[np.bool_]) -> float:
    """Return how much the dark side tells of the light: the darker it is, the more of it is glare."""
    if bright.all() or not bright.any():
        return 1.0
    return float(np.exp(2 * (np.median(seen[~bright]) - np.median(seen[bright]))))


def split(values: NDArray[np.floating], least: float, most: float) -> float:
    """Return the value that parts `values` best into two sides, between `least` and `most`.

    Nobuyuki Otsu, "A threshold selection method from gray-level histograms", IEEE Transactions on Systems,
    Man, and Cybernetics (1979): the variance between the sides is the greatest. Where it is so over a whole
    range of values, as in drawings of two tones, the middle of that range.
    """
    if not most - least > 1e-3:
        return (least + most) / 2
    counts, edges = np.histogram(values, bins=256, range=(least, most))
    middles = (edges[:-1] + edges[1:]) / 2
    # Products of counts are beyond the whole numbers of 32 bits that the page's numpy counts with.
    below = np.cumsum(counts, dtype=np.float64)
    total = below[-1]
    sums = np.cumsum(counts * middles)
    shares = below * (total - below)
    between = np.where(shares > 0, (sums * total - sums[-1] * below) ** 2 / np.maximum(shares, 1), 0.0)
    best = np.flatnonzero(between >= between.max() * (1 - 1e-9))
    return float((edges[best[0] + 1] + edges[best[-1] + 1]) / 2)


def _places(count: int) -> Shares:
    """Return where px lie along a side, from -1 to 1."""
    places: Shares = (np.arange(count, dtype=np.float64) + 0.5) * (2 / count) - 1
    return places
