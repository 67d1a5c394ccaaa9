"""How far the colours of a picture are from one of them."""

import numpy as np
from numpy.typing import NDArray

from peekpaper.pixels import lab_from_srgb

_BITS = 6
"""Bits of each of red, green and blue that tell colours apart here: finer steps are hardly seen."""


def differences(picture: NDArray[np.uint8], colour: str) -> NDArray[np.float32]:
    """Return how far each px of an RGBA picture is from a colour (`#rrggbb`), in CIELAB (CIE 15:2004)."""
    steps = np.arange(2**_BITS)
    levels = (steps << (8 - _BITS) | steps >> (2 * _BITS - 8)).astype(np.uint8)
    every = np.stack(np.meshgrid(levels, levels, levels, indexing="ij"), axis=-1)
    wanted = np.frombuffer(bytes.fromhex(colour.removeprefix("#")), dtype=np.uint8)
    apart = np.linalg.norm(lab_from_srgb(every) - lab_from_srgb(wanted), axis=-1).astype(np.float32).ravel()
    found = np.empty(picture.shape[:2], dtype=np.float32)
    for row, line in enumerate(picture):
        red, green, blue = (line[:, channel].astype(np.intp) >> (8 - _BITS) for channel in range(3))
        found[row] = apart[red << 2 * _BITS | green << _BITS | blue]
    return found
