"""Places that were found before, by what they were found from."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True, slots=True, eq=False)
class FoundPlaces:
    """Places (k, 2) by name (k, rising) with all that each follows from (k, any)."""

    names: NDArray[np.int64]
    causes: NDArray[np.int64]
    places: NDArray[np.float64]


NOTHING = FoundPlaces(np.empty(0, np.int64), np.empty((0, 0), np.int64), np.empty((0, 2)))
"""No places at all, as before anything was found."""


def found_places(
    names: NDArray[np.int64],
    causes: NDArray[np.int64],
    known: FoundPlaces,
    find: Callable[[NDArray[np.int64]], NDArray[np.float64]],
) -> FoundPlaces:
    """Return the places by these names (k, rising), `known` ones where the causes are the same.

    `find` gives places (m, 2) for positions (m) among the names.
    """
    places = np.empty((len(names), 2))
    sought = np.ones(len(names), bool)
    if len(known.names):
        at = np.minimum(np.searchsorted(known.names, names), len(known.names) - 1)
        sought = (known.names[at] != names) | (known.causes[at] != causes).any(axis=1)
        places[~sought] = known.places[at[~sought]]
    if sought.any():
        places[sought] = find(np.flatnonzero(sought))
    return FoundPlaces(names, causes, places)
