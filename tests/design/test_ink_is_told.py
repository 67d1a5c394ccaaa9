"""What a file paints is card, or an opening, or told of with its place: ink is never lost without a word."""

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from ink_told import without_a_word
from shapely import MultiPolygon, Point, Polygon, box
from shapely.affinity import scale, translate
from test_habits import design_from

from peekpaper.design.design import Design, Habit, Limits, Reading
from peekpaper.design.make import make_design
from peekpaper.drawing.read import read_drawing
from peekpaper.refusal import Refusal

NEAR_MM = 0.6
"""Edges nearer than this are one: eight cells of a thousandth of the drawing's diagonal."""
NOTHING = 0.02
"""So much of the ink may differ by rounding, and by what the reader takes for next to nothing."""

Painted = tuple[Polygon | MultiPolygon, str]


@st.composite
def shapes(draw: st.DrawFn) -> Painted:
    """A disc, a ring or a block on a sheet of 60 by 40 mm, in one of four colours."""
    x, y, size = draw(st.integers(6, 54)), draw(st.integers(6, 34)), draw(st.integers(2, 6))
    disc, block = Point(x, y).buffer(size), box(x - size, y - size, x + size, y + size)
    kinds = [disc, block, disc - Point(x, y).buffer(0.6 * size), block - scale(block, 0.5, 0.5)]
    return draw(st.sampled_from(kinds)), draw(st.sampled_from(["#222222", "#cc3333", "#3366cc", "#2e7d32"]))


def ink_without_a_word(painted: list[Painted], design: Design) -> float:
    """Return the share of the ink, all colours joined, that is neither card nor opening nor told of.

    An opening stands for the ink in it where its edge is the ink's edge; so do marks around ink.
    """
    left, top = (origin * 25.4 / 96 for origin in design.origin_px)
    inks = [translate(shape, -left, -top) for shape, _ in painted]
    ink = shapely.union_all(inks)
    edges = shapely.union_all([shape.boundary for shape in inks]).buffer(NEAR_MM)
    openings = [opening.area for opening in design.openings]
    drawn = [
        area for area in openings if area.exterior.intersection(edges).length > 0.9 * area.exterior.length
    ]
    marks = shapely.union_all([warning.where for warning in design.warnings if warning.where is not None])
    told = [Polygon(part.exterior) for part in shapely.get_parts(marks) if isinstance(part, Polygon)]
    loose = [bit.area for bit in design.loose_bits]
    known = shapely.union_all([design.card, *drawn, *loose, *told]).buffer(NEAR_MM)
    return (ink - known).area / ink.area


@settings(max_examples=40)
@given(st.lists(shapes(), min_size=1, max_size=7), st.sampled_from([None, *Habit]))
def test_no_way_of_reading_loses_ink_without_a_word(painted, habit):
    paths = "".join(
        f'<path fill="{colour}" fill-rule="evenodd" d="{_path(shape)}"/>' for shape, colour in painted
    )
    try:
        design = design_from(paths, Reading(habit))
    except Refusal:
        return
    assert ink_without_a_word(painted, design) < NOTHING


_FRAME = 'fill-rule="evenodd" d="M2 2h56v36h-56z M8 8v24h20v-24z M32 8v24h20v-24z"'
_PICTURES = {
    "a star in a coloured pane": f'<path fill="#cc3333" d="M8 8h20v24h-20z"/>'
    f'<path fill="#3366cc" d="M14 14h8v8h-8z"/><path fill="#222" {_FRAME}/>',
    "hairs beyond a moth of three colours": '<g fill="#b52" stroke="#000" stroke-width=".1">'
    '<path d="M4 20h24v16h-24z"/><path d="M32 20h24v16h-24z"/></g><path fill="#311" d="M27 14h6v24h-6z"/>'
    '<path fill="#d83" d="M8 23h14v10h-14z M38 23h14v10h-14z"/>'
    '<path fill="none" stroke="#000" stroke-width=".15" d="M29 14L20 2 M31 14L40 2"/>',
    "rings in a card": f'<path fill="#222" {_FRAME}/><g fill="none" stroke="#a50" stroke-width=".8">'
    '<circle cx="18" cy="20" r="3"/><circle cx="18" cy="20" r="6"/></g>',
    "hairs across an opening": f'<path fill="#cc3333" d="M32 8h20v24h-20z"/><path fill="#222" {_FRAME}/>'
    '<path fill="none" stroke="#000" stroke-width=".15" d="M10 10L26 30 M26 10L10 30"/>',
    "blocks beside a card": f'<path fill="#222" {_FRAME}/><path fill="#c33" d="M58.5 2h1.4v30h-1.4z"/>',
}


@pytest.mark.parametrize("body", _PICTURES.values(), ids=_PICTURES)
@pytest.mark.parametrize("habit", [None, *Habit])
def test_nothing_that_a_renderer_paints_is_lost_without_a_word(body, habit):
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">{body}</svg>'
    )
    drawing = read_drawing(svg.encode(), 0.05)
    try:
        design = make_design(drawing, Reading(habit), Limits())
    except Refusal:
        return
    lost = without_a_word(svg.encode(), drawing, design)
    assert max(lost.ink, lost.edges) < NOTHING


def _path(shape: Polygon | MultiPolygon) -> str:
    rings = [ring for part in shapely.get_parts(shape) for ring in (part.exterior, *part.interiors)]
    return " ".join("M" + " ".join(f"{x:.4f} {y:.4f}" for x, y in ring.coords) + "z" for ring in rings)
