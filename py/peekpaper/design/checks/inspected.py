"""What the checks look at."""

from dataclasses import dataclass

from shapely import MultiPolygon, Polygon

from peekpaper.design.bars.triangulation import CardTriangulation
from peekpaper.design.design import Design, Limits, MatSize
from peekpaper.design.sheet.mended import Mended
from peekpaper.message import Message


@dataclass(frozen=True, slots=True)
class LeftOutArea:
    """A kind of content that was left out: what is told of it, and the places of the first ones."""

    message: Message
    where: MultiPolygon


@dataclass(frozen=True, slots=True)
class Inspected:
    """A design without its warnings, and what else is known of its file, in mm.

    `mended` tells what was put right, `lost` where the reading makes nothing of what is drawn, `off_page` is
    the card beyond the file's page, `slivers` what was too fine to keep.
    """

    design: Design
    limits: Limits
    mat: MatSize
    triangulation: CardTriangulation
    mended: tuple[Mended, ...]
    lost: MultiPolygon
    off_page: MultiPolygon
    slivers: tuple[Polygon, ...]
    left_out: tuple[LeftOutArea, ...]
    notices: tuple[Message, ...]
