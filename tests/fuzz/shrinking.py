"""Making an input that fails as small as it gets, so that what it fails by is plain to see.

The method is delta debugging: Zeller and Hildebrandt, "Simplifying and isolating failure-inducing input",
IEEE Transactions on Software Engineering 28 (2002).
"""

from collections.abc import Callable
from typing import TypeVar

Given = TypeVar("Given", str, bytes, list[str])

MOST_TRIES = 400


def shrunk(given: Given, fails: Callable[[Given], bool]) -> Given:
    """Return a part of the input that still fails, leaving out ever smaller pieces of it."""
    tries, step = 0, max(1, len(given) // 2)
    while step >= 1 and tries < MOST_TRIES:
        start, smaller = 0, False
        while start < len(given) and tries < MOST_TRIES:
            without = given[:start] + given[start + step :]
            tries += 1
            if fails(without):
                given, smaller = without, True
            else:
                start += step
        if not smaller:
            step //= 2
    return given
