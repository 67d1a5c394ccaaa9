"""The finished piece on its page as a picture with measures, to refer to while gluing."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon

from peekpaper.design.design import Design
from peekpaper.geometry.outline import Floats, outer_ring, rectangle
from peekpaper.papers.paper import Colourway
from peekpaper.project.project import Block, PageLayout, Project
from peekpaper.sheets.loose_bits import outermost_first
from peekpaper.sheets.picture.picture import INK, Anchor, Area, Mark, Picture, Stroke, Words
from peekpaper.sheets.picture.typeface import text_width, wrapped
from peekpaper.words.words import Language

PAGE_COLOUR = "#fffdf8"
MEASURE_COLOUR = "#9b3418"
_PHOTO_COLOUR = "#c9c2b6"
_MAT_COLOUR = "#ffffff"
_WRITING_COLOUR = "#8a7d6a"
_CAPS_MM = 2.6
"""The capitals of measures."""
_LINE_MM = 0.25
"""Lines of measures and frames, fine beside the blocks."""
_LEAST_GAP_MM = 6.0
"""A gap narrower than this has no room for its measure."""
_RULE_MM = 8.0
"""Between ruled lines, as in a school book (from memory)."""
_LEADING = 1.9
"""From line to line, in heights of capitals."""
_HAND_CAPS_MM = 3.2
"""The capitals of writing where there is room: about a hand's."""
_LEAST_CAPS_MM = 0.8
"""The smallest capitals that can be read at all."""


@dataclass(frozen=True, slots=True)
class Measure:
    """What a measure says, where its middle is, and the line (x, y to x, y) that it belongs to; all in mm."""

    text: str
    x: float
    y: float
    line: tuple[float, float, float, float] | None


def page_measures(layout: PageLayout, unit: str, words: Language) -> tuple[Measure, ...]:
    """Return for each block its size and how far it lies from the page's left and top edges.

    Distances go to the box around a turned block, its photo mat included; ones that are too short to be
    written at are left out. `unit` is "in" or "mm".
    """
    return tuple(measure for block in layout.blocks for measure in _of_block(block, layout, unit, words))


def _of_block(block: Block, layout: PageLayout, unit: str, words: Language) -> Iterator[Measure]:
    across, down = outer_size(block)
    turn = math.radians(block.turn_deg)
    cos, sin = abs(math.cos(turn)), abs(math.sin(turn))
    left = block.x_mm - (across * cos + down * sin) / 2
    top = block.y_mm - (across * sin + down * cos) / 2
    bottom = 2 * block.y_mm - top
    if left >= _LEAST_GAP_MM:
        yield Measure(words.length(left, unit), left / 2, block.y_mm, (0.0, block.y_mm, left, block.y_mm))
    if top >= _LEAST_GAP_MM:
        yield Measure(words.length(top, unit), block.x_mm, top / 2, (block.x_mm, 0.0, block.x_mm, top))
    fits_below = bottom + 2 * _CAPS_MM <= layout.height_mm
    y = bottom + 1.4 * _CAPS_MM if fits_below else min(bottom, layout.height_mm) - 1.4 * _CAPS_MM
    yield Measure(words.size(across, down, unit), block.x_mm, y, None)


def outer_size(block: Block) -> tuple[float, float]:
    """Return width and height of a block with the photo mat around it."""
    return block.width_mm + 2 * block.mat_mm, block.height_mm + 2 * block.mat_mm


def page_view(project: Project, design: Design, colourway: Colourway, words: Language) -> Picture:
    """Return the piece on its page in its papers' plain colours, with photo mats, texts and measures."""
    layout = project.page
    colours = {paper.id: paper.colour for paper in project.shelf.papers}
    ground = colours.get(layout.background or "", PAGE_COLOUR)
    sheet = Area((rectangle(0, 0, layout.width_mm, layout.height_mm),), ground)
    blocks = [
        mark
        for block in layout.blocks
        for mark in (
            _piece(block, project, design, _given(colourway, colours), ground)
            if block.kind == "piece"
            else _block(block, colours)
        )
    ]
    measures = [mark for measure in page_measures(layout, project.units, words) for mark in _written(measure)]
    return Picture(
        words.text("print.named-page", name=project.name),
        layout.width_mm,
        layout.height_mm,
        (sheet, *blocks, *measures),
    )


def _given(colourway: Colourway, colours: Mapping[str, str]) -> dict[int, str]:
    return {number: colours[paper] for number, paper in colourway.papers.items() if paper in colours}


def _piece(
    block: Block, project: Project, design: Design, given: Mapping[int, str], ground: str
) -> Iterator[Mark]:
    middle = np.array([design.width_mm / 2, design.height_mm / 2])
    card = tuple(
        _turned(outer_ring(part) - middle, block)
        for part in shapely.get_parts(design.card).tolist()
        if isinstance(part, Polygon)
    )
    yield Area(card, project.look.card_colour)
    for opening in design.openings:
        ring = _turned(outer_ring(opening.area) - middle, block)
        yield Area((ring,), given.get(opening.number, ground))
    for bit in outermost_first(design.loose_bits):
        yield Area((_turned(outer_ring(bit.area) - middle, block),), project.look.card_colour)
        holes = tuple(_turned(shapely.get_coordinates(hole) - middle, block) for hole in bit.area.interiors)
        if holes:
            yield Area(holes, given.get(bit.opening, ground))


def _block(block: Block, colours: Mapping[str, str]) -> Iterator[Mark]:
    across, down = outer_size(block)
    if block.kind == "photo":
        yield Area((_turned(_centred(across, down), block),), _MAT_COLOUR)
        yield Area((_turned(_centred(block.width_mm, block.height_mm), block),), _PHOTO_COLOUR)
        return
    outline = _turned(_centred(across, down), block)
    yield Stroke((outline,), _WRITING_COLOUR, _LINE_MM, 2.0)
    if block.text.strip():
        lines, caps = _set_in(block)
        for at, line in enumerate(lines):
            offset = (at - (len(lines) - 1) / 2) * caps * _LEADING
            x, y = _turned(np.array([[0.0, offset]]), block)[0]
            yield Words(
                line,
                float(x),
                float(y),
                caps,
                colours.get(block.ink or "", INK),
                anchor=Anchor.MIDDLE,
                bold=block.kind == "title",
                turn_deg=block.turn_deg,
            )
    elif block.kind == "writing":
        heights = np.arange(_RULE_MM, block.height_mm, _RULE_MM) - block.height_mm / 2
        half = block.width_mm * 0.47
        rules = tuple(_turned(np.array([[-half, y], [half, y]]), block) for y in heights)
        if rules:
            yield Stroke(rules, _WRITING_COLOUR, _LINE_MM)


def _set_in(block: Block) -> tuple[list[str], float]:
    """Return a block's text as lines, and the largest height of capitals at which they fit, in mm.

    Titles grow to fill their block; writing is as large as a hand writes at most.
    """
    bold = block.kind == "title"
    room = block.width_mm * 0.94
    caps = block.height_mm / 2 if bold else min(_HAND_CAPS_MM, block.height_mm / 2)
    while True:
        lines = (
            block.text.splitlines()
            if bold
            else [part for line in block.text.splitlines() for part in wrapped(line, caps, room) or [""]]
        )
        fits = len(lines) * caps * _LEADING <= block.height_mm
        widest = max(text_width(line, caps, bold) for line in lines)
        if (fits and widest <= room) or caps <= _LEAST_CAPS_MM:
            return lines, caps
        caps *= 0.94


def _written(measure: Measure) -> Iterator[Mark]:
    if measure.line is not None:
        ends = np.array(measure.line).reshape(2, 2)
        yield Stroke((ends,), MEASURE_COLOUR, _LINE_MM)
    width = text_width(measure.text, _CAPS_MM) + _CAPS_MM
    height = 2 * _CAPS_MM
    yield Area(
        (rectangle(measure.x - width / 2, measure.y - height / 2, width, height),),
        PAGE_COLOUR,
    )
    yield Words(measure.text, measure.x, measure.y, _CAPS_MM, MEASURE_COLOUR, Anchor.MIDDLE)


def _centred(width: float, height: float) -> Floats:
    return rectangle(-width / 2, -height / 2, width, height)


def _turned(points: Floats, block: Block) -> Floats:
    """Return points about a block's middle where they lie on the page."""
    turn = math.radians(block.turn_deg)
    cos, sin = math.cos(turn), math.sin(turn)
    turned: Floats = points @ np.array([[cos, sin], [-sin, cos]]) + (block.x_mm, block.y_mm)
    return turned
