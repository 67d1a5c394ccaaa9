"""What was put right, left out, or counted only once, to make a design of contours."""

from dataclasses import dataclass
from enum import StrEnum

from shapely.geometry.base import BaseGeometry


class Fault(StrEnum):
    """What can be wrong with a contour."""

    OPEN = "open"
    GAP = "gap"
    CROSSING = "crossing"
    DOUBLED = "doubled"
    NOT_CUT = "not-cut"
    BORDER = "border"


@dataclass(frozen=True, slots=True)
class Mended:
    """A contour's fault and where it is."""

    fault: Fault
    where: BaseGeometry
