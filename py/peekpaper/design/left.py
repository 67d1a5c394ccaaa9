"""What the person leaves as it is, so that it is found no more."""

from collections.abc import Collection, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon

from peekpaper.design.design import Left
from peekpaper.geometry.areas import as_area, geometries
from peekpaper.geometry.overlay import union_all

WIDTHS = ("thin-bars", "thin-necks", "touching-edges")
"""The findings that wider card mends: what is left of one of them is left of all."""
_ON_IT_MM = 0.05
"""So near a place that a person chose counts as there (from memory)."""


def area_left(left: Sequence[Left], findings: Collection[str]) -> MultiPolygon:
    """Return the area in mm within which some findings are left as they are."""
    areas = [each.where for each in left if each.finding in findings and each.where is not None]
    return as_area(union_all(areas)) if areas else MultiPolygon()


def are_left(left: Sequence[Left], finding: str, shapes: Sequence[shapely.Geometry]) -> NDArray[np.bool_]:
    """Tell which of some shapes (n) in mm lie at places where a finding is left as it is."""
    middles = [each.where.centroid for each in left if each.finding == finding and each.where is not None]
    return np.asarray(shapely.dwithin(geometries(list(shapes)), shapely.MultiPoint(middles), _ON_IT_MM))


def is_left_anywhere(left: Sequence[Left], findings: Collection[str]) -> bool:
    """Tell whether one of some findings is left as it is wherever it is found."""
    return any(each.where is None and each.finding in findings for each in left)
