"""From fitted outlines to finished pieces: easy to cut or of a simple shape, measured, with offers."""

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass

from shapely import MultiPolygon, Polygon

from peekpaper.backing.backing import BackingChoices, SimpleShapeOffer
from peekpaper.backing.easing import eased_outlines
from peekpaper.backing.fitting import Seat, has_hope
from peekpaper.backing.lips import Lip, measured_lips
from peekpaper.backing.punches import parse_shape
from peekpaper.backing.simple_shapes import offers, placed, stock


@dataclass(frozen=True, slots=True)
class LaidPiece:
    """A piece before it is finished: its openings, its room, its fitted outline, the shape taken for it."""

    number: int
    core: MultiPolygon
    room: Polygon | MultiPolygon
    fitted: Polygon
    shape_name: str | None

    def key(self, choices: BackingChoices) -> Hashable:
        """Return what the finished piece follows from."""
        wkbs = (self.core.wkb, self.room.wkb, self.fitted.wkb)
        return (self.number, *wkbs, self.shape_name, choices.least_lip_mm, choices.punches)


@dataclass(frozen=True, slots=True)
class FinishedPiece:
    """A piece's outline with all that is found out about it.

    `simple_shape` is the name of the shape that was taken; None where none was, or where it does not fit.
    """

    outline: Polygon
    lip: Lip
    simple_shape: str | None
    offers: tuple[SimpleShapeOffer, ...]


def finished_pieces(
    laid: tuple[LaidPiece, ...], choices: BackingChoices, kept: Mapping[Hashable, FinishedPiece]
) -> dict[Hashable, FinishedPiece]:
    """Return the finished pieces by their keys; those among `kept` are taken from there.

    Raises Refusal for the name of a punch that tells no shape.
    """
    keys = {piece.number: piece.key(choices) for piece in laid}
    fresh = [piece for piece in laid if keys[piece.number] not in kept]
    punches = stock(choices.punches)
    seats = _seats(fresh, choices.least_lip_mm)
    shaped = {
        piece.number: outline
        for piece in fresh
        if (outline := _taken(piece.shape_name, seats.get(piece.number))) is not None
    }
    plain = [piece for piece in fresh if piece.number not in shaped]
    outlines = shaped | eased_outlines(
        {piece.number: piece.fitted for piece in plain},
        {piece.number: piece.core for piece in plain},
        {piece.number: piece.room for piece in plain},
        choices.lip_mm,
    )
    lips = measured_lips({piece.number: piece.core for piece in fresh}, outlines)
    made = {
        keys[piece.number]: FinishedPiece(
            outlines[piece.number],
            lips[piece.number],
            piece.shape_name if piece.number in shaped else None,
            tuple(offers(piece.number, seats[piece.number], punches)) if piece.number in seats else (),
        )
        for piece in fresh
    }
    return {key: made[key] if key in made else kept[key] for key in keys.values()}


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
