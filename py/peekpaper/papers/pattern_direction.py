"""Which turns a pattern bears, guessed from how its edges lie.

Edges tell by the directions of their gradients, weighed by strength: a pattern that looks the same a quarter
turn on has as many of them each way, one that looks the same upside down as many each way as the opposite way
(histograms of oriented gradients: Dalal and Triggs, "Histograms of oriented gradients for human detection",
2005; from memory). Writing is often missed, since letters have edges all ways.
"""

import numpy as np
from numpy.typing import NDArray

from peekpaper.papers.paper import Direction

_BINS = 24
_SIDE_PX = 256
"""About how many px of its shorter side a picture is looked at with."""
_FAINT = 0.25
"""Gradients under this share of the strong ones are grain."""
_STRONG = 97.0
"""The percentile of gradients that counts as strong."""
_PLAIN = 4.0
"""Of 255 a px: where strong gradients are no more, there is no pattern."""
_OPPOSITE, _QUARTER = 0.11, 0.3
"""How much of the histogram may lie elsewhere half a turn and a quarter turn on (by trial)."""

Floats = NDArray[np.float64]


def guessed_direction(picture: NDArray[np.uint8]) -> Direction:
    """Return which turns keep the pattern of an RGBA picture the right way up, as far as its edges tell."""
    light = _smoothed(_smoothed(_seen_from_afar(picture[..., :3]) @ np.array([0.2126, 0.7152, 0.0722])))
    if min(light.shape) < 3:
        return Direction.ANY
    down, across = (np.gradient(light, axis=axis) for axis in (0, 1))
    strength = np.hypot(across, down)
    strong = float(np.percentile(strength, _STRONG))
    if strong < _PLAIN:
        return Direction.ANY
    told = strength > _FAINT * strong
    turn = np.arctan2(down[told], across[told]) / (2 * np.pi) * _BINS
    counts = np.bincount(np.rint(turn).astype(np.intp) % _BINS, strength[told], _BINS)
    share = _spread(counts / counts.sum())
    if _elsewhere(share, _BINS // 2) > _OPPOSITE:
        return Direction.ONE_WAY
    return Direction.TWO_WAY if _elsewhere(share, _BINS // 4) > _QUARTER else Direction.ANY


def _seen_from_afar(picture: NDArray[np.uint8]) -> Floats:
    """Return a picture (height, width, 3) as means of squares, so that few px are left to look at."""
    step = max(1, min(picture.shape[:2]) // _SIDE_PX)
    height, width = (side // step for side in picture.shape[:2])
    squares = picture[: height * step, : width * step].reshape(height, step, width, step, 3)
    return np.asarray(squares.mean(axis=(1, 3), dtype=np.float64))


def _elsewhere(share: Floats, bins: int) -> float:
    """Return how much of a histogram lies elsewhere once it is turned by so many bins, 0 to 1."""
    return float(np.abs(share - np.roll(share, bins)).sum() / 2)


def _spread(share: Floats) -> Floats:
    """Return a histogram with each bin shared with its neighbours: edges between two bins favour neither."""
    return (np.roll(share, 1) + 2 * share + np.roll(share, -1)) / 4


def _smoothed(light: Floats) -> Floats:
    edged = np.pad(light, 1, mode="edge")
    edged = (edged[:-2] + 2 * edged[1:-1] + edged[2:]) / 4
    smooth: Floats = (edged[:, :-2] + 2 * edged[:, 1:-1] + edged[:, 2:]) / 4
    return smooth
