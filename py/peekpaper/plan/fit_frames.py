"""Which rectangles to try when pieces may be parts of one that was cut up."""

import math
from collections.abc import Sequence
from itertools import accumulate, repeat, takewhile
from operator import mul

import numpy as np

from peekpaper.plan.kit import SAME_MM, Kit

SLACK = 1.05
"""Where the sides aren't known, rectangles of this part of the pieces' area are tried."""
LONGEST = 3.0
"""The longest rectangles tried have this ratio of sides."""
FEW_LENGTHS, MOST_SUMS = 12, 600
HAIR_MM = 0.003


def exact_frames(kit: Kit) -> list[tuple[float, float]]:
    """Return rectangles of the pieces' area whose sides are sums of the pieces' sides, near-square first.

    None where pieces have so many different sides that nearly every length is such a sum.
    """
    area = float(kit.areas.sum())
    lengths = np.unique(np.round(kit.corners.length_out, 2))
    lengths = lengths[np.concatenate([[True], np.diff(lengths) > SAME_MM])]
    if len(lengths) > FEW_LENGTHS:
        return []
    longest = LONGEST * math.sqrt(area)
    sums: set[float] = set()
    added = {0.0}
    while added and len(sums) <= MOST_SUMS:
        added = {
            round(old + float(length), 1) for old in added for length in lengths if old + length < longest
        } - sums
        sums |= added
    known = np.array(sorted(sums))
    frames = []
    for width in known[known >= math.sqrt(area) - 0.1].tolist():
        if np.abs(known - area / width).min() < 3 * SAME_MM:
            frames.append((width + HAIR_MM, area / width + HAIR_MM))
    return frames


def loose_frames(kit: Kit) -> list[tuple[float, float]]:
    """Return rectangles a little larger than the pieces' area, near-square first."""
    area = float(kit.areas.sum()) * SLACK
    ratios = list(takewhile(lambda ratio: ratio < LONGEST, accumulate(repeat(SLACK), mul, initial=1.0)))
    return [(math.sqrt(area * ratio), math.sqrt(area / ratio)) for ratio in ratios]


def both_ways(frames: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return these rectangles, each lying and standing."""
    return list(dict.fromkeys(way for wide, high in frames for way in ((wide, high), (high, wide))))


def straight_sided(kit: Kit, corners_at_most: float) -> bool:
    """Tell whether the pieces have few corners, as pieces cut by straight cuts have."""
    return len(kit.corners) <= corners_at_most * len(kit.areas)
