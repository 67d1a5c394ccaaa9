"""Small cards whose figures are known."""

from collections.abc import Sequence

import shapely
from panels import design_of
from shapely import Polygon, affinity

from peekpaper.backing.backing import BackingChoices
from peekpaper.backing.make import make_backing
from peekpaper.design.design import Design


def card_with(*holes: Polygon, rim: float = 20.0) -> Design:
    """A rectangular card around some holes, with so much card to all sides."""
    left, top, right, bottom = shapely.total_bounds(holes)
    frame = shapely.box(left - rim, top - rim, right + rim, bottom + rim)
    return design_of(frame.difference(shapely.union_all(holes)))


def panes(widths: Sequence[float], bars: Sequence[float], height: float = 20.0) -> list[Polygon]:
    """Rectangles in a row with bars of those widths between them."""
    holes, left = [], 0.0
    for width, bar in zip(widths, [*bars, 0.0], strict=True):
        holes.append(shapely.box(left, 0, left + width, height))
        left += width + bar
    return holes


def ring_of_petals(count: int = 8, waist: float = 1.5) -> list[Polygon]:
    """Petals around a disc; the bars between neighbours and towards the disc are about `waist` wide."""
    disc = shapely.Point(0, 0).buffer(8, quad_segs=32)
    wedge = Polygon([(0, 0), (60, -60 * 0.4142), (60, 60 * 0.4142)])
    annulus = shapely.Point(0, 0).buffer(24, quad_segs=32).difference(disc.buffer(waist, quad_segs=32))
    petal = annulus.intersection(wedge).buffer(-waist / 2, join_style="mitre")
    return [affinity.rotate(petal, 360 / count * k, origin=(0, 0)) for k in range(count)] + [disc]


def one_paper(design: Design) -> dict[int, str]:
    return {opening.number: "p1" for opening in design.openings}


def backed(design: Design, choices: BackingChoices | None = None):
    return make_backing(design, choices or BackingChoices(), one_paper(design))
