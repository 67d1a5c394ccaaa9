"""Which edge is nearest to each site: learnt from neighbour to neighbour.

As distance maps hand the nearest point on from pixel to pixel (Danielsson 1980, "Euclidean distance mapping",
from memory), here along a triangulation.
"""

import numpy as np
from numpy.typing import NDArray

from peekpaper.backing.zones.bisector import nearer_sites, nearest_along
from peekpaper.backing.zones.sites import Sites
from peekpaper.geometry.pairs import pair_names

_NEARER_MM = 1e-6
"""Nearer by less is rounding, and not worth another round."""


def nearest_sites(sites: Sites, known: NDArray[np.bool_]) -> NDArray[np.int64]:
    """Return for each site (n) the site on the nearest edge.

    Of `known` sites, `sites.nearest` tells it. The others learn theirs from their neighbours in the
    triangulation, and walk along that edge while it comes nearer.
    """
    nearest = np.where(known, sites.nearest, -1)
    distance = np.where(known, 0.0, np.inf)
    sides = sites.triangles[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
    sides = sides[~known[sides[:, 1]]]
    changed = known
    while changed.any():
        wave = _one_of_each_edge(sites, sides[changed[sides[:, 0]]], nearest)
        learner = wave[:, 1]
        places = sites.points[learner]
        offer, offered, _ = nearest_along(sites, places, nearer_sites(sites, places, nearest[wave[:, 0]]))
        best = distance.copy()
        np.minimum.at(best, learner, offer)
        taken = (offer <= best[learner]) & (offer < distance[learner] - _NEARER_MM)
        changed = np.zeros(len(nearest), bool)
        changed[learner[taken]] = True
        nearest[learner[taken]] = offered[taken]
        distance[learner[taken]] = offer[taken]
    return nearest


def _one_of_each_edge(sites: Sites, wave: NDArray[np.int64], nearest: NDArray[np.int64]) -> NDArray[np.int64]:
    """Leave out of pairs (k, 2) of teacher and learner those that would teach the same edge once more."""
    taught = pair_names(wave[:, 1], sites.begin[nearest[wave[:, 0]]], len(sites.rings))
    _, first = np.unique(taught, return_index=True)
    return wave[first]
