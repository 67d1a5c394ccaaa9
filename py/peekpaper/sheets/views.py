"""The design as pictures for gluing: numbered from the front, and mirrored from the back."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.sheets.colours import INK, PALE_INK, WHITE, ink_on, tint
from peekpaper.sheets.label_spots import label_spots, number_size
from peekpaper.sheets.numbering import PlacedNumber, placed_numbers
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
    return view.picture("from the back", view.card(_CARD_BACK) + view.pieces())


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

    def numbers(self) -> list[Mark]:
        """Return the number of the piece behind each backed opening, on the opening or beside it."""
        piece_of = {number: piece for piece in self.work.backing.pieces for number in piece.openings}
        backed = [opening for opening in self.work.design.openings if opening.number in piece_of]
        areas = [Polygon(self._ring(opening.area)) for opening in backed]
        papers = [self._colours().get(piece_of[opening.number].paper, WHITE) for opening in backed]
        texts = [str(piece_of[opening.number].number) for opening in backed]
        return _numbers(placed_numbers(areas, texts, _LEAST_CAP_MM, _LARGEST_CAP_MM, self._walls()), papers)

    def pieces(self) -> list[Mark]:
        """Return the open openings and the pieces with their numbers, the hidden edges of openings dashed.

        An edge that would run through a number is left out.
        """
        pieces = self.work.backing.pieces
        outlines = [Polygon(self._ring(piece.outline)) for piece in pieces]
        colours = [tint(self._colours().get(piece.paper, WHITE), _PIECE_TINT) for piece in pieces]
        areas = {opening.number: Polygon(self._ring(opening.area)) for opening in self.work.design.openings}
        largest = [max((areas[number] for number in piece.openings), key=shapely.area) for piece in pieces]
        fits = [
            number_size(str(piece.number), spot[2], _LARGEST_CAP_MM) >= _LEAST_CAP_MM
            for piece, spot in zip(pieces, label_spots(largest), strict=True)
        ]
        spaces = [
            area if fit else outline for area, outline, fit in zip(largest, outlines, fits, strict=True)
        ]
        covered = {number for piece in pieces for number in piece.openings}
        crossed = {
            number for piece, fit in zip(pieces, fits, strict=True) if not fit for number in piece.openings
        }
        bare = tuple(_ring(area) for number, area in areas.items() if number not in covered)
        hidden = tuple(_ring(areas[number]) for number in sorted(covered - crossed))
        marks: list[Mark] = [Area(bare, WHITE), Stroke(bare, INK, _EDGE_MM)] if bare else []
        for colour in dict.fromkeys(colours):
            mine = tuple(_ring(shape) for shape, own in zip(outlines, colours, strict=True) if own == colour)
            marks += [Area(mine, colour), Stroke(mine, INK, _EDGE_MM)]
        if hidden:
            marks.append(Stroke(hidden, PALE_INK, _EDGE_MM * 0.7, 0.8))
        texts = [str(piece.number) for piece in pieces]
        walls = [*self._walls(), *outlines]
        return marks + _numbers(placed_numbers(spaces, texts, _LEAST_CAP_MM, _LARGEST_CAP_MM, walls), colours)

    def _walls(self) -> list[BaseGeometry]:
        """Return what a number that stands beside its opening must not touch."""
        openings = [Polygon(self._ring(opening.area)) for opening in self.work.design.openings]
        return [*openings, *(LineString(self._ring(part)) for part in self.work.design.card.geoms)]

    def _colours(self) -> dict[str, str]:
        return {paper.id: paper.colour for paper in used_papers(self.work)}

    def _whole_back_colour(self) -> str:
        chosen = self.work.project.backing.whole_back
        return WHITE if chosen is None else self._colours().get(chosen.paper, WHITE)

    def _ring(self, polygon: Polygon) -> Floats:
        seen = shapely.simplify(polygon.exterior, _SEEN_MM / self.scale, preserve_topology=False)
        return moved(shapely.get_coordinates(seen), self.side) * self.scale + RIM_MM


def _ring(polygon: Polygon) -> Floats:
    return shapely.get_coordinates(polygon.exterior)


def _numbers(numbers: Sequence[PlacedNumber], colours: Sequence[str]) -> list[Mark]:
    """Return numbers in the ink that shows best on the colour of their area, or dark ones with leaders."""
    leaders = tuple(number.leader for number in numbers if number.leader is not None)
    words = [
        Words(
            number.text,
            number.x,
            number.y,
            number.cap_height,
            ink_on(colours[number.area]) if number.leader is None else INK,
            Anchor.MIDDLE,
            bold=True,
        )
        for number in numbers
    ]
    return [Stroke(leaders, INK, _EDGE_MM), *words] if leaders else list(words)
