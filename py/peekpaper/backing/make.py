"""From a design to its backing: the one door of this step."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from shapely import MultiPolygon

from peekpaper.backing.backing import Backing, BackingChoices, Piece
from peekpaper.backing.cautions import layout_cautions, lip_caution, shape_cautions, whole_back_cautions
from peekpaper.backing.fewer import fewer_pieces
from peekpaper.backing.finish import FinishedPiece, LaidPiece, finished_pieces
from peekpaper.backing.kept import BackingBench
from peekpaper.backing.layout import Layout, lay_out
from peekpaper.backing.lips import Lip, measured_lips
from peekpaper.backing.outlines.fitted import total_nodes
from peekpaper.backing.reuse import kept_or_made
from peekpaper.backing.whole_back import whole_back_sheet
from peekpaper.design.design import Design
from peekpaper.lengths import refuse_no_length

_TOLERATED_MM = 0.02
"""So much less than promised is not told: no hand or blade tells it (from memory)."""
_TOLERATED = 0.02
"""The same as a share of the promise, for wide lips."""
_LENGTHS = {
    "lip_mm": "distance.lip",
    "least_lip_mm": "distance.least-lip",
    "gap_mm": "distance.gap",
    "clearance_mm": "distance.clearance",
    "edge_margin_mm": "distance.edge-margin",
    "shared_bar_mm": "distance.thin-bars",
}


def make_backing(
    design: Design,
    choices: BackingChoices,
    papers: Mapping[int, str],
    bench: BackingBench | None = None,
) -> Backing:
    """Return the backing pieces of a design.

    `papers` gives the paper's id for each opening to be backed; openings that it misses stay open. A
    `bench` that the caller keeps saves making again what has not changed since the last call.
    Raises Refusal for choices that make no sense (lengths below zero or beyond all cards, a punch that
    tells no shape).
    """
    _check(choices)
    bench = bench if bench is not None else BackingBench()
    return _whole(design, choices, papers, lay_out(design, choices, papers, bench), bench)


def backings(
    design: Design,
    choices: BackingChoices,
    papers: Mapping[int, str],
    bench: BackingBench | None = None,
) -> Iterator[Backing]:
    """Yield first a preview, with the fitted outlines as they are and no offers, then the whole backing.

    Takes and raises what `make_backing` does.
    """
    _check(choices)
    bench = bench if bench is not None else BackingBench()
    layout = lay_out(design, choices, papers, bench)
    yield _preview(design, choices, papers, layout, bench)
    yield _whole(design, choices, papers, layout, bench)


def previewed(
    design: Design, choices: BackingChoices, papers: Mapping[int, str], bench: BackingBench
) -> Backing:
    """Return what `backings` yields first."""
    return _preview(design, choices, papers, lay_out(design, choices, papers, bench), bench)


def _preview(
    design: Design,
    choices: BackingChoices,
    papers: Mapping[int, str],
    layout: Layout,
    bench: BackingBench,
) -> Backing:
    pieces = list(layout.cores)

    def make(fresh: list[int]) -> Iterable[Lip]:
        return measured_lips({pieces[k]: layout.cores[pieces[k]] for k in fresh}, layout.outlines).values()

    keys = [(layout.cores[piece].wkb, layout.outlines[piece].wkb) for piece in pieces]
    bench.fitted_lips = kept_or_made(keys, bench.fitted_lips, make)
    rough = {
        piece: FinishedPiece(layout.outlines[piece], lip, None, ())
        for piece, lip in zip(pieces, bench.fitted_lips.values(), strict=True)
    }
    return _backing(design, choices, papers, layout, rough)


def _whole(
    design: Design,
    choices: BackingChoices,
    papers: Mapping[int, str],
    layout: Layout,
    bench: BackingBench,
) -> Backing:
    shapes = _shapes_by_piece(choices, layout.sharing.piece_of)
    laid = tuple(
        LaidPiece(piece, core, layout.rooms[piece], layout.outlines[piece], shapes.get(piece))
        for piece, core in layout.cores.items()
    )
    bench.pieces = finished_pieces(laid, choices, layout.lip_mm, bench.pieces)
    finished = {
        number: piece.numbered(number)
        for number, piece in zip(layout.cores, bench.pieces.values(), strict=True)
    }
    backing = _backing(design, choices, papers, layout, finished)
    openings = {opening.number: opening.area for opening in design.openings}
    return replace(
        backing,
        warnings=design.still_told(
            (*backing.warnings, *shape_cautions(design, choices, layout.sharing, finished))
        ),
        fewer=fewer_pieces(openings, papers, choices, len(backing.pieces)),
    )


def _check(choices: BackingChoices) -> None:
    lengths = {name: getattr(choices, field) for field, name in _LENGTHS.items()}
    if choices.whole_back is not None:
        lengths["distance.whole-back-margin"] = choices.whole_back.edge_margin_mm
    for name, value in lengths.items():
        if value is not None:
            refuse_no_length(value, name)


def _shapes_by_piece(choices: BackingChoices, piece_of: Mapping[int, int]) -> dict[int, str]:
    return {piece_of[opening]: name for opening, name in choices.simple_shapes if opening in piece_of}


def _backing(
    design: Design,
    choices: BackingChoices,
    papers: Mapping[int, str],
    layout: Layout,
    finished: Mapping[int, FinishedPiece],
) -> Backing:
    enough = choices.least_lip_mm - max(_TOLERATED_MM, _TOLERATED * choices.least_lip_mm)
    under = tuple(number for number, piece in finished.items() if piece.lip.least_mm < enough)
    whole_back: MultiPolygon | None = None
    if choices.whole_back is not None:
        whole_back = whole_back_sheet(design.card, choices.whole_back)
    return Backing(
        pieces=tuple(
            Piece(
                number=number,
                openings=layout.sharing.pieces[number],
                paper=papers[number],
                outline=piece.outline,
                lip_min_mm=piece.lip.least_mm,
                lip_median_mm=piece.lip.median_mm,
                simple_shape=piece.simple_shape,
            )
            for number, piece in finished.items()
        ),
        whole_back=whole_back,
        offers=tuple(offer for piece in finished.values() for offer in piece.offers),
        pieces_saved_by_sharing=len(layout.sharing.piece_of) - len(finished),
        uniform_lip_mm=layout.uniform_lip_mm,
        smallest_width_mm=layout.smallest.width_mm,
        smallest_set_by=layout.smallest.set_by,
        nodes_before=total_nodes(layout.outlines.values()),
        nodes_after=total_nodes(piece.outline for piece in finished.values()),
        under_least_lip=under,
        warnings=design.still_told(
            (
                *layout_cautions(design, choices, papers, layout),
                *lip_caution(design, choices, layout, finished, under),
                *whole_back_cautions(design, choices, whole_back),
            )
        ),
    )
