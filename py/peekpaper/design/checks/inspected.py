"""What the checks look at."""

from dataclasses import dataclass

from shapely import MultiPolygon
from shapely.geometry.base import BaseGeometry

from peekpaper.design.design import Design, Limits
from peekpaper.design.triangulation import CardTriangulation
from peekpaper.drawing.drawing import LeftOut


@dataclass(frozen=True, slots=True)
class Inspected:
    """A design without its warnings, and what else is known of its file, in mm.

    `mended` are kinds ("doubled", "gap", "open", "crossing") and places of what was put right;
    `off_page` is the card beyond the file's page.
    """

    design: Design
    limits: Limits
    triangulation: CardTriangulation
    mended: tuple[tuple[str, BaseGeometry], ...]
    off_page: MultiPolygon
    left_out: tuple[LeftOut, ...]
    notices: tuple[str, ...]
