"""How likely a reading is: one score for all.

Files for cutting follow no common rule, so every reading is a guess at what its drawer meant. What a drawer
drew was meant to be seen: a reading is the likelier the more of the drawn edges are edges of its card, half
as much where they are told of as a border or as lines to score (`kept`), and the less ink lies beyond the
card's outline, where it would be lost (`outside`). A picture within one opening shows in none of its papers,
whatever its colours. A card was meant to hold together: openings speak for it, separate parts and loose bits
(small ones beside large ones for less) against it, and so does card as fine as a pen line. And some habits
are rarer than others: card around ink is made up where the file draws none, the less likely for one hole or
two; one colour of several is seldom all. Last, the kinds of paint and line say what to expect (see `habits`),
as long as that does not fall apart.

The score is a sum of logarithms, so that each trait is a factor of the odds. Its weights were fitted to 132
files that people published for cutting, each read by eye, and then adjusted by hand on 140, the same among
them: how often they are right on others is not known from these.
"""

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from peekpaper.design.design import Habit
from peekpaper.design.edges import NEAR_CELLS, Edges, edges_of, outlines
from peekpaper.design.raster import Cells, Raster, grown, raster_over
from peekpaper.design.readings.card_ink import CardInk
from peekpaper.design.sheet.colours import same_colour
from peekpaper.design.sheet.content import Content
from peekpaper.design.sheet.hairlines import hairline_width
from peekpaper.design.sheet.mended import Fault
from peekpaper.design.worth import SEVERAL, count, loose_parts, separate_parts
from peekpaper.geometry.areas import geometries
from peekpaper.geometry.elementary import hypot
from peekpaper.refusal import Refusal

_RARITY = {
    Habit.SOLIDS: 0.0,
    Habit.CUT_LINES: -0.75,
    Habit.KNOCK_OUTS: -0.8,
    Habit.LAYERS: -0.5,
    Habit.ALL_BUT: -1.0,
    Habit.FACES: -1.0,
    Habit.INVERTED: -0.5,
}
"""How much rarer each habit is than filled shapes as card, where all else is equal."""
EXPECTED = 1.8
"""How much what the kinds of paint and line, or the page, lead to expect counts for."""
_FINE = 0.004
"""Card of a smaller mean width than this share of the drawing's diagonal is drawn with a pen."""
_CELL = 1 / 1000
"""The side of a cell over the drawing's diagonal: edges that differ by two cells are one to the eye."""
_NOTHING = 0.01
"""Lost edges under this share of all are where outlines are rounded differently (of 148 files looked at)."""
_MUCH = 0.1
"""A reading that loses this share of the ink and more is not what kinds of paint and line lead to expect (set
on 140 files, of which one needs it)."""
_TOLD = {Fault.NOT_CUT, Fault.BORDER, Fault.DOUBLED}


@dataclass(frozen=True, slots=True, eq=False)
class Account:
    """What a card makes of all that its file draws.

    `only_lines` tells that lines are all there is to see, `is_drawn` that the card's outline is drawn too, by
    half at least. `kept` is the share of drawn edges that are edges of the card too, `outside` that of ink
    beyond the card's outline. `apart` and `loose` count parts and loose bits, small ones beside large ones
    for less. `thin` is the card's mean width over the drawing's diagonal. `is_edge` tells of each place along
    the drawn edges whether it is one of the card too.
    """

    only_lines: bool
    is_drawn: bool
    kept: float
    outside: float
    openings: int
    parts: int
    apart: float
    loose_bits: int
    loose: float
    thin: float
    is_edge: NDArray[np.bool_]


@dataclass(frozen=True)
class Drawn:
    """All that a file draws, for cards to account for."""

    content: Content

    def lost(self, content: Content, card: CardInk, account: Account) -> MultiPolygon:
        """Return blocks in CSS px over what is drawn that a card makes nothing of and that is not told of.

        That is ink beyond its outline, hairlines beside the card, and drawn edges but for those between two
        colours of the card: what is drawn within an opening shows in none of its papers. Nothing is returned
        for next to nothing.
        """
        told = self._raster.along(_told(content, card, set(Fault)))
        cells = self._lines_beside(card, told)
        if account.outside < _NOTHING and account.is_edge.mean() > 1 - _NOTHING:
            return self._raster.blocks(cells)
        in_card = self._raster.inside(geometries(card.area.geoms))[self._edges.cells]
        in_card &= ~self._edges.along(~self._painted(content.background))
        is_lost = ~(account.is_edge | in_card | self._edges.along(told))
        if np.count_nonzero(is_lost) >= _NOTHING * len(is_lost):
            cells[tuple(each[is_lost] for each in self._edges.cells)] = True
        if account.outside >= _NOTHING:
            cells |= self._ink_beyond(content, self._filled(card), told)
        return self._raster.blocks(cells)

    def account(self, content: Content, card: CardInk) -> Account:
        """Return what a card makes of it, read from some content of the same drawing."""
        openings, parts, loose_bits = count(card.area)
        told = self._raster.along(_told(content, card, _TOLD))
        is_edge = self._edge_of(card)
        filled = self._filled(card)
        outlines_of_card = geometries([part.exterior for part in card.area.geoms])
        outline = edges_of(outlines_of_card, np.zeros(len(outlines_of_card)), self._raster, self._size)
        return Account(
            content.only_lines,
            outline.share(outline.along(self._line_cells)) >= 0.5,
            (self._edges.share(is_edge) + self._edges.share(is_edge | self._edges.along(told))) / 2,
            self._outside(content, filled, told),
            openings,
            parts,
            separate_parts(card.area),
            loose_bits,
            loose_parts(card.area),
            2 * card.area.area / card.area.length / self._size,
            is_edge,
        )

    def _edge_of(self, card: CardInk) -> NDArray[np.bool_]:
        """Tell which drawn edges are edges of the card too."""
        rings = geometries(shapely.get_rings(geometries(card.area.geoms)))
        return self._edges.along(self._raster.along(rings))

    def _filled(self, card: CardInk) -> Cells:
        """Return the cells within the card's outline, and within what lines go around that are engraved."""
        outlines = geometries([Polygon(part.exterior) for part in card.area.geoms])
        return self._raster.inside(outlines) | self._raster.inside(_engraved(card))

    def _ink_beyond(self, content: Content, filled: Cells, told: Cells) -> Cells:
        """Return the cells of ink that lies beyond the card's outline and is not told of."""
        beyond: Cells = self._painted(content.background) & ~grown(filled, 1) & ~grown(told, NEAR_CELLS)
        return beyond

    def _lines_beside(self, card: CardInk, told: Cells) -> Cells:
        """Return the cells of hairlines that lie on no card; none for next to none of all edges."""
        if self.content.only_lines or not self.content.drawn_over:
            return np.zeros_like(told)
        lines = [paint.area.boundary for paint in self.content.drawn_over]
        on_it = self._raster.inside(geometries(card.area.geoms)) | self._raster.inside(_engraved(card))
        beside: Cells = self._raster.along(geometries(lines)) & ~grown(on_it | told, NEAR_CELLS)
        if np.count_nonzero(beside) < _NOTHING * np.count_nonzero(self._line_cells):
            return np.zeros_like(told)
        return beside

    def _outside(self, content: Content, filled: Cells, told: Cells) -> float:
        """Return the share of ink that lies beyond the card's outline and is not told; lines lie on it."""
        if content.only_lines:
            return 0.0
        every = np.count_nonzero(self._painted(content.background))
        return np.count_nonzero(self._ink_beyond(content, filled, told)) / every if every else 0.0

    def _painted(self, background: str) -> Cells:
        """Return the cells of all paint but the background's, of that where there is no other."""
        if background not in self._ink:
            areas = [area for name, area in self._regions if not same_colour(name, background)]
            every = areas or [area for _, area in self._regions]
            self._ink[background] = self._raster.inside(geometries(every))
        return self._ink[background]

    @cached_property
    def _ink(self) -> dict[str, Cells]:
        return {}

    @cached_property
    def _edges(self) -> Edges:
        """What the eye sees as edges: outlines of colours, or lines where there are only those."""
        return edges_of(*self._lines, self._raster, self._size)

    @cached_property
    def _line_cells(self) -> Cells:
        return self._raster.along(np.concatenate([self._lines[0], self._contours]))

    @cached_property
    def _lines(self) -> tuple[NDArray[np.object_], NDArray[np.float64]]:
        """The lines that are drawn, and how wide each is."""
        if not self.content.only_lines and self._regions:
            return outlines([area for _, area in self._regions])
        shapes = self.content.shapes
        return self._contours, np.array([shape.stroke_width for shape in shapes for _ in shape.contours])

    @cached_property
    def _contours(self) -> NDArray[np.object_]:
        return geometries([contour.line for shape in self.content.shapes for contour in shape.contours])

    @cached_property
    def _regions(self) -> tuple[tuple[str, MultiPolygon], ...]:
        try:
            return tuple(region for region in self.content.regions if not region[1].is_empty)
        except Refusal:
            return (("", self.content.ink),)

    @cached_property
    def _bounds(self) -> NDArray[np.float64]:
        areas = [area for _, area in self._regions]
        return shapely.total_bounds(geometries([*areas, *self._contours]))

    @cached_property
    def _size(self) -> float:
        left, top, right, bottom = self._bounds
        return float(hypot(right - left, bottom - top))

    @cached_property
    def _raster(self) -> Raster:
        side = _CELL * self._size
        widest = hairline_width(*self._bounds)
        return raster_over(self._bounds, side, math.ceil(widest / side) + NEAR_CELLS + 1)


def most_likely(habit: Habit) -> float:
    """Return what no reading by a habit surpasses that the kinds of paint and line do not expect."""
    return _RARITY[habit]


MOST_LIKELY = max(_RARITY.values())
"""What no reading surpasses that the kinds of paint and line do not expect."""


def likelihood(account: Account, habit: Habit, is_expected: bool) -> float:
    """Return the logarithm of the odds of a reading, but for a constant; the likeliest one has the largest.

    `is_expected` tells that the kinds of paint and line make the habit the first to try.
    """
    if account.thin < _FINE and account.openings < SEVERAL:
        return -math.inf
    is_nested = habit is Habit.CUT_LINES and account.only_lines and account.openings > 0
    is_sheet_of_parts = is_nested and is_expected
    apart = 0.0 if is_sheet_of_parts else max(0.0, account.apart - 1)
    pieces = account.openings + 1 + apart + account.loose
    made_up = habit is Habit.INVERTED and not account.is_drawn
    falls_apart = _falls_apart(account, apart)
    # What is expected must hold together part by part.
    counted = 0 if is_sheet_of_parts else account.parts - 1
    is_few = 2 * counted < account.openings + 2 * SEVERAL
    is_few &= account.loose_bits < 2 * account.openings + SEVERAL
    is_sound = not _falls_apart(account, counted) and is_few and account.outside < _MUCH
    is_outline = account.thin < _FINE and account.openings <= account.parts
    return (
        3 * math.log(max(account.kept, 0.05))
        + 4 * math.log(max(1 - account.outside, 0.05))
        + math.log(max((account.openings + 0.3) / max(pieces, 1), 0.1))
        + 0.5 * min(0.0, math.log(max(account.thin, 1e-4) / _FINE))
        + _RARITY[habit]
        + EXPECTED * (is_expected and is_sound)
        - 2.2 * made_up
        - 2 * ((made_up and account.openings < SEVERAL) + is_outline + falls_apart)
    )


def _falls_apart(account: Account, apart: float) -> bool:
    """Tell whether more comes apart than a card of so many openings holds."""
    return apart > account.openings or apart + account.loose >= account.openings + SEVERAL


def _told(content: Content, card: CardInk, faults: set[Fault]) -> NDArray[np.object_]:
    """Return the lines that a reading tells of although its card leaves them out."""
    told = [mended.where for mended in (*content.around, *card.mended) if mended.fault in faults]
    parts = shapely.get_parts(geometries(told))
    lines = parts[np.isin(shapely.get_type_id(parts), (1, 2))]
    if content.sheet is None:
        return geometries(lines)
    return geometries([*lines, *shapely.get_rings(geometries(shapely.get_parts(content.sheet)))])


def _engraved(card: CardInk) -> NDArray[np.object_]:
    """Return what lines go around that are told of as engraved."""
    lines = [mended.where for mended in card.mended if mended.fault is Fault.NOT_CUT]
    return geometries([Polygon(line.coords) for line in lines if line.is_closed and len(line.coords) > 3])
