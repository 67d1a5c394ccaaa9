"""The design as pictures for gluing: numbered from the front, and mirrored from the back."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.geometry.affine import IDENTITY, after, mirrored, moved
from peekpaper.geometry.areas import as_area
from peekpaper.geometry.outline import Floats, outer_ring
from peekpaper.geometry.overlay import difference, union_all
from peekpaper.preview import matrix_of, preview
from peekpaper.sheets.loose_bits import outermost_first
from peekpaper.sheets.narrow_lips import narrow_lip_edges
from peekpaper.sheets.picture.colours import ALERT, INK, PALE_INK, WHITE, ink_on, tint
from peekpaper.sheets.picture.fills import Fill, fills
from peekpaper.sheets.picture.label_spots import number_spots
from peekpaper.sheets.picture.picture import Anchor, Area, Mark, Picture, Stroke, Words
from peekpaper.sheets.picture.placed_numbers import PlacedNumber, number_ground, placed_numbers
from peekpaper.sheets.work import Work

RIM_MM = 8.0
"""Room around the design for numbers that stand beside it."""

_LEAST_CAP_MM = 1.4
"""The smallest numbers in their openings: between 5 and 6 point type."""
_LARGEST_CAP_MM = 3.4
"""The largest: about 13 point type."""
_EDGE_MM = 0.18
"""The line around openings and card."""
_DOT_MM = 0.35
"""The radius of the dot that a leader ends in."""
_SEEN_MM = 0.02
"""Detail finer than this is left out of the pictures."""

_PIECE_TINT = 0.75
"""How much of a paper's colour the pieces have, so that their edges and numbers show."""
_PART_TINTS = ("#d9d2c3", "#b9c7cf", "#cfc0b2", "#c3cdb8")
"""Of the card's parts, one after the other."""
_PART_NUMBER_MM = 4.0
"""The radius of the disc that a part's number stands in."""
_SEAM_MM = 0.5
"""The line where parts of the card meet."""
_CARD_BACK = "#ece7dd"
_BIT_COLOUR = "#4c5563"
_PALE_TINT = 0.4
"""The same where loose bits are to stand out from the papers."""


def front_view(work: Work, scale: float) -> Picture:
    """Return the design from the front, its openings in their papers' colours, each piece's number once.

    `scale` is how many mm of the picture make one of the design.
    """
    view = _seen(work, scale, IDENTITY)
    card = view.card(tint(work.project.look.card_colour, 0.35))
    bits = _bits(view, tint(work.project.look.card_colour, 0.35))
    return view.picture("print.named-front", [*card, *_openings(view), *bits, *_opening_numbers(view)])


def back_view(work: Work, scale: float) -> Picture:
    """Return the design from behind, left and right swapped, with the pieces as they lie once glued.

    Edges with less than the least lip are red.
    """
    view = _seen(work, scale, mirrored(work.design.width_mm))
    return view.picture("print.named-back", [*view.card(_CARD_BACK), *_pieces(view), *_narrow_lips(view)])


def bits_view(work: Work, scale: float) -> Picture:
    """Return the design from the front, its papers pale and each loose bit dark and numbered at its place."""
    view = _seen(work, scale, IDENTITY)
    pale = replace(view, fills={id: fill.thinned(_PALE_TINT) for id, fill in view.fills.items()})
    numbers = placed_numbers(
        [Polygon(bit.exterior) for bit in view.bits.values()],
        [bit.name for bit in work.design.loose_bits],
        _LEAST_CAP_MM,
        _LARGEST_CAP_MM,
        [*view.bits.values(), *(LineString(ring) for ring in view.outer)],
    )
    marks = [*view.card(_CARD_BACK), *_openings(pale), *_bits(pale, _BIT_COLOUR)]
    return view.picture(
        "print.named-bits", [*marks, *_numbers(numbers, [Fill(_BIT_COLOUR)] * len(view.bits))]
    )


def parts_view(work: Work, scale: float) -> Picture:
    """Return the design from the front in the parts that it is cut in, each with its number, seams dark."""
    view = _seen(work, scale, IDENTITY)
    division = work.design.division
    parts = () if division is None else division.parts
    marks: list[Mark] = []
    for place, part in reversed(list(enumerate(parts))):
        rings = tuple(shapely.get_coordinates(piece.exterior) * scale + RIM_MM for piece in part.area.geoms)
        marks.append(Area(rings, _PART_TINTS[place % len(_PART_TINTS)]))
    openings = tuple(outer_ring(area) for area in view.openings.values())
    marks += [Area(openings, WHITE), Stroke((*openings, *view.outer), INK, _EDGE_MM)]
    for part in parts:
        seams = tuple(shapely.get_coordinates(line) * scale + RIM_MM for line in part.seen_edges.geoms)
        marks += [Stroke(seams, ALERT, _SEAM_MM)] if seams else []
    for part in parts:
        x, y = shapely.get_coordinates(shapely.box(*part.area.bounds).centroid)[0] * scale + RIM_MM
        disc = _PART_NUMBER_MM * _circle() + (x, y)
        marks += [Area((disc,), WHITE), Stroke((disc,), INK, _EDGE_MM)]
        marks.append(Words(str(part.number), x, y, _PART_NUMBER_MM * 0.9, INK, Anchor.MIDDLE, bold=True))
    return view.picture("print.named-parts", marks)


@dataclass(frozen=True, slots=True, eq=False)
class _Seen:
    """A work from one side, in mm of the picture: openings, pieces, bits by number, fills by paper.

    `laid` maps what lies behind an opening, in mm of its paper, to the picture.
    """

    work: Work
    scale: float
    outer: tuple[Floats, ...]
    narrow_lips: tuple[Floats, ...]
    openings: dict[int, Polygon]
    pieces: dict[int, Polygon]
    bits: dict[int, Polygon]
    fills: dict[str, Fill]
    laid: dict[int, Floats]

    def picture(self, key: str, marks: list[Mark]) -> Picture:
        design = self.work.design
        return Picture(
            self.work.words.text(key, name=self.work.project.name),
            design.width_mm * self.scale + 2 * RIM_MM,
            design.height_mm * self.scale + 2 * RIM_MM,
            tuple(marks),
        )

    def card(self, colour: str) -> list[Mark]:
        return [Area(self.outer, colour), Stroke(self.outer, INK, _EDGE_MM * 1.5)]

    def walls(self) -> list[BaseGeometry]:
        """Return what a number that stands beside its opening must not touch."""
        return [*self.openings.values(), *(LineString(ring) for ring in self.outer)]

    def behind(self) -> dict[int, Fill]:
        """Return what shows in each opening: its paper, else the whole-back, else white."""
        papers = {number: piece.paper for piece in self.work.backing.pieces for number in piece.openings}
        whole_back = self.work.project.backing.whole_back
        bare = Fill(WHITE)
        rest = bare if whole_back is None else self.fills.get(whole_back.paper, bare)
        return {number: self.fills[papers[number]] if number in papers else rest for number in self.openings}


def _seen(work: Work, scale: float, side: Floats) -> _Seen:
    def on_picture(points: Floats) -> Floats:
        return moved(points, side) * scale + RIM_MM

    def seen(shapes: Sequence[Polygon]) -> list[Polygon]:
        plain = shapely.simplify(
            [Polygon(shape.exterior) for shape in shapes], _SEEN_MM / scale, preserve_topology=False
        )
        return list(shapely.transform(plain, on_picture))

    design, backing = work.design, work.backing
    to_picture = after(np.array([[scale, 0.0, RIM_MM], [0.0, scale, RIM_MM]]), side)
    patterns = preview(work.plan, backing.pieces)
    openings = seen([opening.area for opening in design.openings])
    pieces = seen([piece.outline for piece in backing.pieces])
    bits = shapely.transform([bit.area for bit in design.loose_bits], on_picture)
    return _Seen(
        work,
        scale,
        tuple(outer_ring(part) for part in seen(list(design.card.geoms))),
        tuple(on_picture(shapely.get_coordinates(edge)) for edge in narrow_lip_edges(work)),
        {opening.number: area for opening, area in zip(design.openings, openings, strict=True)},
        {piece.number: outline for piece, outline in zip(backing.pieces, pieces, strict=True)},
        {bit.number: area for bit, area in zip(design.loose_bits, bits, strict=True)},
        fills(work),
        {
            opening.number: after(to_picture, matrix_of(patterns[opening.number]))
            if opening.number in patterns
            else to_picture
            for opening in design.openings
        },
    )


def _openings(view: _Seen) -> list[Mark]:
    """Return the openings with what shows in them, each plain colour's at one go."""
    behind = view.behind()
    shown = [(behind[number], outer_ring(area), view.laid[number]) for number, area in view.openings.items()]
    filled = _filled(shown)
    edges = tuple(outer_ring(area) for area in view.openings.values())
    return [*filled, Stroke(edges, INK, _EDGE_MM)] if edges else []


def _filled(shown: Sequence[tuple[Fill, Floats, Floats]]) -> list[Mark]:
    """Return rings filled, each given with its fill and how that is laid, each plain colour's at one go."""
    plain: dict[str, list[Floats]] = {}
    patterned: list[Mark] = []
    for fill, ring, matrix in shown:
        if fill.look is None:
            plain.setdefault(fill.colour, []).append(ring)
        else:
            patterned.append(fill.area((ring,), matrix))
    return [*(Area(tuple(rings), colour) for colour, rings in plain.items()), *patterned]


def _bits(view: _Seen, colour: str) -> list[Mark]:
    """Return the loose bits in a colour, what shows through their holes, and what lies in those."""
    behind = view.behind()
    marks: list[Mark] = []
    for bit in outermost_first(view.work.design.loose_bits):
        outside, *holes = (shapely.get_coordinates(ring) for ring in shapely.get_rings(view.bits[bit.number]))
        marks.append(Area((outside,), colour))
        if holes:
            marks.append(behind[bit.opening].area(tuple(holes), view.laid[bit.opening]))
        marks.append(Stroke((outside, *holes), INK, _EDGE_MM))
    return marks


def _beside_bits(view: _Seen, number: int) -> Polygon:
    """Return the largest part of an opening that no loose bit lies in."""
    bits = [view.bits[bit.number] for bit in view.work.design.loose_bits if bit.opening == number]
    whole = view.openings[number]
    if not bits:
        return whole
    return max(as_area(difference(whole, union_all(bits))).geoms, key=shapely.area, default=whole)


def _opening_numbers(view: _Seen) -> list[Mark]:
    """Return the number of each piece, on the largest opening that it lies behind or beside that."""
    pieces = view.work.backing.pieces
    areas = [
        max((_beside_bits(view, number) for number in piece.openings), key=shapely.area) for piece in pieces
    ]
    texts = [str(piece.number) for piece in pieces]
    behind = [view.fills[piece.paper] for piece in pieces]
    return _numbers(placed_numbers(areas, texts, _LEAST_CAP_MM, _LARGEST_CAP_MM, view.walls()), behind)


def _pieces(view: _Seen) -> list[Mark]:
    """Return the open openings and the pieces with their numbers, the hidden edges of openings dashed.

    An edge that would run through a number is left out.
    """
    pieces = view.work.backing.pieces
    outlines = list(view.pieces.values())
    own = [view.fills[piece.paper] for piece in pieces]
    laid_in = [fill.thinned(_PIECE_TINT) if fill.look is None else fill for fill in own]
    largest = [
        max((view.openings[number] for number in piece.openings), key=shapely.area) for piece in pieces
    ]
    texts = [str(piece.number) for piece in pieces]
    fits = [spot.cap_height > 0 for spot in number_spots(largest, texts, _LEAST_CAP_MM, _LARGEST_CAP_MM)]
    spaces = [area if fit else outline for area, outline, fit in zip(largest, outlines, fits, strict=True)]
    covered = {number for piece in pieces for number in piece.openings}
    crossed = {
        number for piece, fit in zip(pieces, fits, strict=True) if not fit for number in piece.openings
    }
    bare = tuple(outer_ring(area) for number, area in view.openings.items() if number not in covered)
    hidden = tuple(outer_ring(view.openings[number]) for number in sorted(covered - crossed))
    marks: list[Mark] = [Area(bare, WHITE), Stroke(bare, INK, _EDGE_MM)] if bare else []
    lie = [view.laid[piece.openings[0]] for piece in pieces]
    marks += _filled(list(zip(laid_in, map(outer_ring, outlines), lie, strict=True)))
    if outlines:
        marks.append(Stroke(tuple(map(outer_ring, outlines)), INK, _EDGE_MM))
    if hidden:
        if any(fill.look for fill in own):
            # Dashes are lost on a pattern.
            marks.append(Stroke(hidden, WHITE, _EDGE_MM * 2))
        marks.append(Stroke(hidden, PALE_INK, _EDGE_MM * 0.7, 0.8))
    walls = [*view.walls(), *outlines]
    numbers = placed_numbers(spaces, texts, _LEAST_CAP_MM, _LARGEST_CAP_MM, walls)
    return marks + _numbers(numbers, laid_in)


def _narrow_lips(view: _Seen) -> list[Mark]:
    return [Stroke(view.narrow_lips, ALERT, _EDGE_MM * 3)] if view.narrow_lips else []


def _numbers(numbers: Sequence[PlacedNumber], behind: Sequence[Fill]) -> list[Mark]:
    """Return numbers in the ink that shows best on what fills their area, or dark ones with leaders.

    A leader ends in a dot, which tells where it points among other lines; a number on a pattern has a white
    ground.
    """
    grounds = tuple(
        number_ground(number.text, number.x, number.y, number.cap_height)
        for number in numbers
        if number.leader is None and behind[number.area].look
    )
    leaders = tuple(number.leader for number in numbers if number.leader is not None)
    words = [
        Words(
            number.text,
            number.x,
            number.y,
            number.cap_height,
            _ink(number, behind[number.area]),
            Anchor.MIDDLE,
            bold=True,
        )
        for number in numbers
    ]
    words.sort(key=lambda mark: mark.colour)
    marks: list[Mark] = [Area((ground,), WHITE) for ground in grounds]
    if leaders:
        dot = _DOT_MM * _circle()
        dots = tuple(leader[1] + dot for leader in leaders)
        marks += [Stroke(leaders, INK, _EDGE_MM * 0.8), Area(dots, INK)]
    return [*marks, *words]


def _ink(number: PlacedNumber, fill: Fill) -> str:
    return INK if number.leader is not None or fill.look else ink_on(fill.colour)


def _circle() -> Floats:
    """Return a circle of radius 1 about the origin (25, 2)."""
    angles = np.linspace(0, 2 * np.pi, 25)
    return np.column_stack([np.cos(angles), np.sin(angles)])
