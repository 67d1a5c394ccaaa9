"""An independent renderer (resvg, by way of the registry's resvg_py) as the reference for ink."""

import io

import numpy as np
import resvg_py
import shapely
from numpy.typing import NDArray
from PIL import Image

from peekpaper.drawing.ink import ink
from peekpaper.drawing.read import read_drawing

FAINTEST = 16
"""Pixels with no more opacity than this, of 255, count as unpainted."""
AGREES = 0.001
"""The share of pixels that may differ, a band of one pixel along edges left out."""


def share_that_differs(svg: str, width: int = 300, reference: str | None = None) -> float:
    """Return the share of pixels where ink and renderer differ by more than one pixel's shift.

    The renderer draws `reference` where it is given, else the same file.
    """
    painted = painted_by_renderer(reference or svg, width)
    drawing = read_drawing(svg.encode())
    rows, columns = painted.shape
    x, y = np.meshgrid(
        (np.arange(columns) + 0.5) * drawing.width / columns, (np.arange(rows) + 0.5) * drawing.height / rows
    )
    area = ink(drawing)
    shapely.prepare(area)
    ours = shapely.contains_xy(area, x, y)
    wrong = (ours & ~_grown(painted)) | (painted & ~_grown(ours))
    return float(wrong.mean())


def painted_by_renderer(svg: str, width: int) -> NDArray[np.bool_]:
    png = resvg_py.svg_to_bytes(svg_string=svg, width=width, skip_system_fonts=True, dpi=96)
    painted: NDArray[np.bool_] = np.asarray(Image.open(io.BytesIO(png)).convert("RGBA"))[..., 3] > FAINTEST
    return painted


def _grown(mask: NDArray[np.bool_]) -> NDArray[np.bool_]:
    padded = np.pad(mask, 1)
    rows, columns = mask.shape
    shifted = [padded[y : y + rows, x : x + columns] for y in range(3) for x in range(3)]
    return np.logical_or.reduce(shifted)
