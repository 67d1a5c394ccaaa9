"""One sheet behind the entire outline."""

import shapely
from shapely import MultiPolygon, Polygon

from peekpaper.backing.backing import WholeBack
from peekpaper.backing.outlines.room import outline_of
from peekpaper.geometry.areas import polygonal
from peekpaper.geometry.grid import one_grown
from peekpaper.geometry.overlay import union, union_all

_REACH = 0.25
"""As a share of the card's shorter side: gaps up to half that side wide are closed (from memory)."""


def whole_back_sheet(card: MultiPolygon, wanted: WholeBack) -> MultiPolygon:
    """Return the card's outline, all openings filled, drawn in by the edge margin (possibly empty).

    With `fills_outside_holes` what the outside encloses is filled, and notches and gaps up to half the
    card's shorter side wide are closed (morphological closing) before the margin is taken.
    """
    outline = outline_of(card)
    if wanted.fills_outside_holes and not outline.is_empty:
        low_x, low_y, high_x, high_y = outline.bounds
        reach = _REACH * min(high_x - low_x, high_y - low_y)
        closed = polygonal(union(one_grown(one_grown(outline, reach), -reach), outline))
        outline = polygonal(union_all([Polygon(part.exterior) for part in shapely.get_parts(closed)]))
    drawn_in = polygonal(one_grown(outline, -wanted.edge_margin_mm, 8))
    return MultiPolygon(list(shapely.get_parts(drawn_in)))
