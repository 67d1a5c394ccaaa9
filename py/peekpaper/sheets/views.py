"""The design as pictures for gluing: numbered from the front, and mirrored from the back."""

from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LineString, Polygon

from peekpaper.sheets.colours import INK, PALE_INK, WHITE, ink_on, tint
from peekpaper.sheets.numbering import placed_numbers
from peekpaper.sheets.outline import Floats
from peekpaper.sheets.paper_names import used_papers
from peekpaper.sheets.picture import Anchor, Area, Mark, Picture, Stroke, Words
from peekpaper.sheets.places import mirrored, moved
from peekpaper.sheets.work import Work

RIM_MM = 8.0
"""Room around the design for numbers that stand beside it."""

_LEAST_CAP_MM = 1.5
_LARGEST_CAP_MM = 3.4
_EDGE_MM = 0.18
_SEEN_MM = 0.02
"""Detail finer than this is left out of the pictures."""

_PIECE_TINT = 0.75
_CARD_BACK = "#ece7dd"


def front_view(work: Work, scale: float) -> Picture:
    """Return the design from the front, its openings in their papers' colours and numbered by piece.

    `scale` is how many mm of the picture make one of the design.
    """
    view = _View(work, scale, np.array([[1.0, 0, 0], [0, 1.0, 0]]))
    marks = view.card(tint(work.project.look.card_colour, 0.35)) + view.openings() + view.numbers()
    return view.picture("from the front", marks)


def back_view(work: Work, scale: float) -> Picture:
    """Return the design from behind, left and right swapped, with the pieces as they lie once glued."""
    view = _View(work, scale, mirrored(work.design.width_mm))
    return view.picture("from the back", view.card(_CARD_BACK) + view.pieces() + view.numbers())


@dataclass(frozen=True, slots=True, eq=False)
class _View:
    work: Work
    scale: float
    side: Floats

    def picture(self, title: str, marks: list[Mark]) -> Picture:
        design = self.work.design
        return Picture(
            f"{self.work.project.name}, {title}",
            design.width_mm * self.scale + 2 * RIM_MM,
            design.height_mm * self.scale + 2 * RIM_MM,
            tuple(marks),
        )

    def card(self, colour: str) -> list[Mark]:
        outer = tuple(self._ring(part) for part in self.work.design.card.geoms)
        return [Area(outer, colour), Stroke(outer, INK, _EDGE_MM * 1.5)]

    def openings(self) -> list[Mark]:
        """Return each paper's openings at one go, then those that stay open."""
        papers = {number: piece.paper for piece in self.work.backing.pieces for number in piece.openings}
        behind = self._whole_back_colour()
        by_colour: dict[str, list[Floats]] = {}
        for opening in self.work.design.openings:
            colour = self._colours().get(papers.get(opening.number, ""), behind)
            by_colour.setdefault(colour, []).append(self._ring(opening.area))
        return [
            mark
            for colour, rings in by_colour.items()
            for mark in (Area(tuple(rings), colour), Stroke(tuple(rings), INK, _EDGE_MM))
        ]

    def pieces(self) -> list[Mark]:
        """Return the open openings, the pieces, and the edges of the openings beneath them, dashed."""
        backed = {number for piece in self.work.backing.pieces for number in piece.openings}
        rings = {opening.number: self._ring(opening.area) for opening in self.work.design.openings}
        bare = tuple(ring for number, ring in rings.items() if number not in backed)
        covered = tuple(ring for number, ring in rings.items() if number in backed)
        marks: list[Mark] = [Area(bare, WHITE), Stroke(bare, INK, _EDGE_MM)] if bare else []
        for paper, colour in self._colours().items():
            mine = tuple(
                self._ring(piece.outline) for piece in self.work.backing.pieces if piece.paper == paper
            )
            if mine:
                marks += [Area(mine, tint(colour, _PIECE_TINT)), Stroke(mine, INK, _EDGE_MM)]
        return [*marks, Stroke(covered, PALE_INK, _EDGE_MM * 0.7, 0.8)] if covered else marks

    def numbers(self) -> list[Mark]:
        """Return the number of the piece behind each backed opening, on the opening or beside it."""
        colours = self._colours()
        piece_of = {number: piece for piece in self.work.backing.pieces for number in piece.openings}
        backed = [opening for opening in self.work.design.openings if opening.number in piece_of]
        areas = [Polygon(self._ring(opening.area)) for opening in backed]
        openings = [Polygon(self._ring(opening.area)) for opening in self.work.design.openings]
        edges = [LineString(self._ring(part)) for part in self.work.design.card.geoms]
        texts = [str(piece_of[opening.number].number) for opening in backed]
        marks: list[Mark] = []
        for number in placed_numbers(areas, texts, _LEAST_CAP_MM, _LARGEST_CAP_MM, [*openings, *edges]):
            paper = colours.get(piece_of[backed[number.area].number].paper, WHITE)
            ink = INK
            if number.leader is None:
                ink = ink_on(tint(paper, _PIECE_TINT) if self.side[0, 0] < 0 else paper)
            else:
                marks.append(Stroke((number.leader,), INK, _EDGE_MM))
            marks.append(
                Words(number.text, number.x, number.y, number.cap_height, ink, Anchor.MIDDLE, bold=True)
            )
        return marks

    def _colours(self) -> dict[str, str]:
        return {paper.id: paper.colour for paper in used_papers(self.work)}

    def _whole_back_colour(self) -> str:
        chosen = self.work.project.backing.whole_back
        return WHITE if chosen is None else self._colours().get(chosen.paper, WHITE)

    def _ring(self, polygon: Polygon) -> Floats:
        seen = shapely.simplify(polygon.exterior, _SEEN_MM / self.scale, preserve_topology=False)
        return moved(shapely.get_coordinates(seen), self.side) * self.scale + RIM_MM
