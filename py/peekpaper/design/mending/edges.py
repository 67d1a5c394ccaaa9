"""The outlines of a card in short pieces, to look up what is near."""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from peekpaper.geometry.areas import geometries

_CHUNK = 24
"""Segments of an edge in one entry of the search tree."""


def edge_pieces(lines: Sequence[shapely.LineString]) -> tuple[NDArray[np.object_], NDArray[np.int64]]:
    """Return lines cut into pieces (n), and for each piece (n) the number of its line."""
    pieces: list[NDArray[np.float64]] = []
    owner: list[int] = []
    for number, line in enumerate(lines):
        nodes = shapely.get_coordinates(line)
        for start in range(0, len(nodes) - 1, _CHUNK):
            pieces.append(nodes[start : start + _CHUNK + 1])
            owner.append(number)
    if not pieces:
        return geometries([]), np.empty(0, np.int64)
    counts = [len(piece) for piece in pieces]
    cut = shapely.linestrings(np.concatenate(pieces), indices=np.repeat(np.arange(len(pieces)), counts))
    return geometries(cut), np.array(owner, np.int64)
