"""What hangs together."""

import numpy as np
from numpy.typing import NDArray


def connected(count: int, pairs: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return for each of `count` things the least one that it hangs together with, itself among them.

    `pairs` (k, 2) hang together, and so does what they hang together with. Labels are hooked to lesser ones
    and pointers halved until nothing changes (Shiloach and Vishkin, An O(log n) Parallel Connectivity
    Algorithm, 1982; from memory).
    """
    least = np.arange(count)
    one, other = pairs.T
    while True:
        hooked = least.copy()
        lower = np.minimum(least[one], least[other])
        np.minimum.at(hooked, least[one], lower)
        np.minimum.at(hooked, least[other], lower)
        while (hooked[hooked] != hooked).any():
            hooked = hooked[hooked]
        if (hooked == least).all():
            return least
        least = hooked
