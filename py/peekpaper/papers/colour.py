"""How colours differ to the eye.

The difference is CIEDE2000 (Sharma, Wu and Dalal, "The CIEDE2000 color-difference formula", Color Research
and Application 30, 2005), computed by coloraide.
"""

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

TELLS_APART = 10.0
"""The CIEDE2000 difference from which neighbouring papers are easily told apart."""

_DECIMALS = 9
"""Cosines and roots differ in the last bits by machine; no two pairs of papers are told apart by them."""

Lab = tuple[float, float, float]


def lab_difference(first: Lab, second: Lab) -> float:
    """Return the CIEDE2000 difference of two CIELAB colours (L* 0 to 100, a*, b*)."""
    from coloraide import Color

    return Color("lab-d65", first).delta_e(Color("lab-d65", second), method="2000")


@lru_cache(maxsize=4096)
def difference(first: str, second: str) -> float:
    """Return the CIEDE2000 difference of two sRGB colours given as `#rrggbb`."""
    return round(lab_difference(lab_of(first), lab_of(second)), _DECIMALS)


@lru_cache(maxsize=1024)
def lab_of(colour: str) -> Lab:
    """Return the CIELAB coordinates (D65) of an sRGB colour given as `#rrggbb`."""
    from coloraide import Color

    lightness, a, b = Color(colour).convert("lab-d65").coords()
    return lightness, a, b


def differences(colours: Sequence[str]) -> NDArray[np.float64]:
    """Return the symmetric matrix of CIEDE2000 differences of colours given as `#rrggbb`."""
    count = len(colours)
    matrix = np.zeros((count, count))
    for row in range(count):
        for column in range(row):
            matrix[row, column] = matrix[column, row] = difference(colours[row], colours[column])
    return matrix
