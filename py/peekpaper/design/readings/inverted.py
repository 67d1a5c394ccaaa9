"""Inverted: the openings are drawn as ink, inside a frame line or simply on the page."""

import shapely
from shapely import MultiPolygon, Polygon

from peekpaper.design.readings.card_ink import CardInk
from peekpaper.design.readings.frame import framed_cards, framed_ink, ring_hole
from peekpaper.design.sheet.colours import same_colour
from peekpaper.design.sheet.content import Content
from peekpaper.design.sheet.hairlines import hairline_width, is_line
from peekpaper.design.sheet.nesting import nesting_of
from peekpaper.drawing.drawing import Area
from peekpaper.geometry.areas import as_area, geometries, holes_of
from peekpaper.geometry.overlay import difference, union_all

_RIM = 0.05
"""The rim of card around ink that has no frame, as a share of its larger side (from memory)."""


def read_inverted(content: Content, page: Polygon) -> CardInk:
    """Return the frame's area less the ink in it as the card.

    The frame is the outermost ring of ink that holds all other ink, or the innermost of several thin ones;
    else thin rings beside one another that hold most of the ink; else a shape of the background's colour that
    holds all ink; else the sheet or the page, where all ink lies well inside it and spans half of it one way;
    else the ink's bounding box and a rim.
    Thin lines count as what they go around.
    """
    ink = content.cut_lines.area if content.only_lines else content.contrast
    if ink.is_empty and not content.only_lines:
        ink = content.ink
    if ink.is_empty:
        return CardInk(ink)
    framed = framed_ink(ink)
    cards = framed_cards(ink) if framed is None and not content.only_lines else None
    frame: Area
    if framed is not None:
        frame, openings = framed.frame, framed.openings
    elif cards is not None:
        frame, openings = cards
    else:
        frame, openings = _ground(ink, content, page), ink
    return CardInk(
        as_area(difference(frame, _filled_lines(openings, hairline_width(*ink.bounds)))),
        given=content.seen_colours if len(content.colours) > 1 else (),
    )


def _filled_lines(openings: MultiPolygon, thin: float) -> MultiPolygon:
    """Return ink in which what is as thin as a line becomes what it goes around.

    Where lines meet, each of the cells between them does.
    """
    if not any(is_line(part, thin) for part in openings.geoms):
        return openings
    nesting = nesting_of(geometries(openings.geoms))
    inside = zip(nesting.parts, nesting.held.tolist(), strict=True)
    return as_area(union_all([each for part, held in inside for each in _inside(part, thin, held > 0)]))


def _inside(part: Polygon, thin: float, holds_ink: bool) -> list[Polygon]:
    """Return what a part of the ink stands for.

    A line stands for itself where it goes around other ink, or around less than it covers.
    """
    holes = holes_of(part)
    if not is_line(part, thin) or holds_ink or sum(hole.area for hole in holes) < part.area:
        return [part]
    return [Polygon(part.exterior)] if ring_hole(part) else holes


def _ground(ink: MultiPolygon, content: Content, page: Polygon) -> Polygon:
    """Return the card, openings and all, of ink without a frame."""
    for paint in content.painted:
        if same_colour(paint.colour, content.background):
            shape = _without_holes(paint.area)
            if shape is not None and shape.covers(ink):
                return shape
    left, top, right, bottom = ink.bounds
    rim = _RIM * max(right - left, bottom - top)
    for sheet in (content.sheet, page):
        outline = _without_holes(sheet) if sheet is not None else None
        if outline is not None and _spans(ink, outline) and outline.buffer(-rim / 5).covers(ink):
            return outline
    return shapely.box(left - rim, top - rim, right + rim, bottom + rim)


def _spans(ink: MultiPolygon, outline: Polygon) -> bool:
    """Tell whether ink reaches over half of the width or the height of what is around it."""
    left, top, right, bottom = ink.bounds
    outer_left, outer_top, outer_right, outer_bottom = outline.bounds
    return 2 * (right - left) >= outer_right - outer_left or 2 * (bottom - top) >= outer_bottom - outer_top


def _without_holes(area: Area) -> Polygon | None:
    """Return the outline of an area in one part, None for one in several."""
    parts = shapely.get_parts(area)
    return Polygon(parts[0].exterior) if len(parts) == 1 else None
