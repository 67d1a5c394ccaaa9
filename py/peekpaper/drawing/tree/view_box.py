"""viewBox and preserveAspectRatio (SVG 1.1, 7.7 and 7.8)."""

import math
import re
from typing import NamedTuple

from peekpaper.drawing.outlines.matrix import Matrix

_NUMBER = r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
_BETWEEN = r"(?:[\s,]+|(?=[+-]))"
"""A sign parts numbers too, as in path data: files made small leave out what browsers do without."""
_VIEW_BOX = re.compile(rf"\s*{_BETWEEN.join([f'({_NUMBER})'] * 4)}\s*[,;]?\s*")
_ASPECT = re.compile(
    r"\s*(?:defer\s+)?(?:none|x(?P<x>Min|Mid|Max)Y(?P<y>Min|Mid|Max))(?:\s+(?P<fit>meet|slice))?\s*"
)
_SHARE = {"Min": 0.0, "Mid": 0.5, "Max": 1.0}


class ViewBox(NamedTuple):
    """The part of the user space that fills a viewport."""

    x: float
    y: float
    width: float
    height: float


def parse_view_box(text: str | None) -> ViewBox | None:
    """Return the viewBox in `text`, or None where there is none or it is in error.

    A width or height of zero is returned: it turns off the rendering of the element.
    """
    match = _VIEW_BOX.fullmatch(text or "")
    if match is None:
        return None
    x, y, width, height = (float(number) for number in match.groups())
    if not all(map(math.isfinite, (x, y, width, height))) or width < 0 or height < 0:
        return None
    return ViewBox(x, y, width, height)


def view_box_matrix(box: ViewBox, width: float, height: float, aspect: str | None) -> Matrix:
    """Return the map from `box` to a viewport of `width` by `height` at the origin.

    `aspect` is the preserveAspectRatio attribute; one in error counts as absent. Sides are positive.
    """
    x_scale, y_scale = width / box.width, height / box.height
    stated = _ASPECT.fullmatch(aspect or "")
    x_share, y_share, scale = 0.5, 0.5, min(x_scale, y_scale)
    if stated is not None and stated["x"] is None:
        return Matrix(x_scale, 0, 0, y_scale, -box.x * x_scale, -box.y * y_scale)
    if stated is not None:
        x_share, y_share = _SHARE[stated["x"]], _SHARE[stated["y"]]
        scale = max(x_scale, y_scale) if stated["fit"] == "slice" else scale
    return Matrix(
        scale, 0, 0, scale,
        (width - box.width * scale) * x_share - box.x * scale,
        (height - box.height * scale) * y_share - box.y * scale,
    )  # fmt: skip
