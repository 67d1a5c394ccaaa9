"""What the checks look at."""

from dataclasses import dataclass

from shapely import MultiPolygon, Polygon

from peekpaper.design.design import Design, Limits
from peekpaper.design.mended import Mended
from peekpaper.design.triangulation import CardTriangulation
from peekpaper.drawing.drawing import LeftOut


@dataclass(frozen=True, slots=True)
class Inspected:
    """A design without its warnings, and what else is known of its file, in mm.

    `mended` tells what was put right, `off_page` is the card beyond the file's page,
    `slivers` what was too fine to keep.
    """

    design: Design
    limits: Limits
    triangulation: CardTriangulation
    mended: tuple[Mended, ...]
    off_page: MultiPolygon
    slivers: tuple[Polygon, ...]
    left_out: tuple[LeftOut, ...]
    notices: tuple[str, ...]
