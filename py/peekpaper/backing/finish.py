"""From fitted outlines to finished pieces: easy to cut or of a simple shape, measured, with offers."""

from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from shapely import MultiPolygon, Polygon

from peekpaper.backing.backing import BackingChoices, SimpleShapeOffer
from peekpaper.backing.lips import Lip, measured_lips
from peekpaper.backing.outlines.smoothing import smoothed_outlines
from peekpaper.backing.reuse import kept_or_made
from peekpaper.backing.simple.covering import Seat, has_hope
from peekpaper.backing.simple.punches import parse_shape
from peekpaper.backing.simple.simple_shapes import offers, placed, stock


@dataclass(frozen=True, slots=True)
class LaidPiece:
    """A piece before it is finished: its openings, its room, its fitted outline, the shape taken for it."""

    number: int
    core: MultiPolygon
    room: Polygon | MultiPolygon
    fitted: Polygon
    shape_name: str | None

    def key(self, choices: BackingChoices, lip_mm: float) -> Hashable:
        """Return what the finished piece follows from."""
        wkbs = (self.core.wkb, self.room.wkb, self.fitted.wkb)
        return (*wkbs, self.shape_name, lip_mm, choices.least_lip_mm, choices.punches)


@dataclass(frozen=True, slots=True)
class FinishedPiece:
    """A piece's outline with all that is found out about it.

    `simple_shape` is the name of the shape that was taken; None where none was, or where it does not fit.
    """

    outline: Polygon
    lip: Lip
    simple_shape: str | None
    offers: tuple[SimpleShapeOffer, ...]

    def numbered(self, number: int) -> "FinishedPiece":
        """Return the piece with offers for the piece of another number."""
        if all(offer.piece == number for offer in self.offers):
            return self
        return replace(self, offers=tuple(replace(offer, piece=number) for offer in self.offers))


def finished_pieces(
    laid: Sequence[LaidPiece], choices: BackingChoices, lip_mm: float, kept: Mapping[Hashable, FinishedPiece]
) -> dict[Hashable, FinishedPiece]:
    """Return the finished pieces by their keys; those among `kept` are taken from there.

    `lip_mm` is the lip that they should have where there is room.
    Raises Refusal for the name of a punch that tells no shape.
    """

    def make(places: list[int]) -> Iterable[FinishedPiece]:
        return _made([laid[place] for place in places], choices, lip_mm)

    return kept_or_made([piece.key(choices, lip_mm) for piece in laid], kept, make)


def _made(pieces: Sequence[LaidPiece], choices: BackingChoices, lip_mm: float) -> Iterator[FinishedPiece]:
    punches = stock(choices.punches)
    seats = _seats(pieces, choices.least_lip_mm)
    shaped = {
        piece.number: outline
        for piece in pieces
        if (outline := _taken(piece.shape_name, seats.get(piece.number))) is not None
    }
    plain = [piece for piece in pieces if piece.number not in shaped]
    outlines = shaped | smoothed_outlines(
        {piece.number: piece.fitted for piece in plain},
        {piece.number: piece.core for piece in plain},
        {piece.number: piece.room for piece in plain},
        lip_mm,
    )
    lips = measured_lips({piece.number: piece.core for piece in pieces}, outlines)
    for piece in pieces:
        yield FinishedPiece(
            outlines[piece.number],
            lips[piece.number],
            piece.shape_name if piece.number in shaped else None,
            tuple(offers(piece.number, seats[piece.number], punches)) if piece.number in seats else (),
        )


def _seats(pieces: Sequence[LaidPiece], least_lip_mm: float) -> dict[int, Seat]:
    """Return the seats of those pieces where any simple shape may fit, by the pieces' numbers."""
    hopes = has_hope([piece.core for piece in pieces], [piece.room for piece in pieces], least_lip_mm)
    return {
        piece.number: Seat(piece.core, piece.room, least_lip_mm)
        for piece, hope in zip(pieces, hopes, strict=True)
        if hope
    }


def _taken(name: str | None, seat: Seat | None) -> Polygon | None:
    shape = parse_shape(name) if name else None
    return placed(shape, seat) if shape and seat else None
