"""Where the glue has less room than the person wants: said and drawn on all that is glued by."""

from collections.abc import Iterator

import shapely
from shapely import LineString

from peekpaper.sheets.work import Work

_NO_LIP_MM = 0.05
"""A lip below this is none: scissors and machines are no finer (common practice, no published source)."""


def narrow_lip_sentences(work: Work) -> list[str]:
    """Return which pieces have no lip somewhere and which less than the least; none where all hold."""
    least = work.project.backing.least_lip_mm
    lips = {piece.number: piece.lip_min_mm for piece in work.backing.pieces}
    bare = [number for number in work.backing.under_least_lip if lips[number] < _NO_LIP_MM]
    narrow = [number for number in work.backing.under_least_lip if lips[number] >= _NO_LIP_MM]
    sentences = []
    if bare:
        sentences.append(work.words.text("print.no-lip", count=len(bare), pieces=tuple(bare)))
    if narrow:
        wanted = work.words.length(least, work.project.units)
        told = work.words.text("print.narrow-lip", count=len(narrow), pieces=tuple(narrow), wanted=wanted)
        sentences.append(told)
    return sentences


def narrow_lip_edges(work: Work) -> Iterator[LineString]:
    """Yield the stretches of opening edges, in design mm, where a piece has less than the least lip."""
    areas = {opening.number: opening.area for opening in work.design.openings}
    least = work.project.backing.least_lip_mm
    under = set(work.backing.under_least_lip)
    for piece in work.backing.pieces:
        if piece.number not in under:
            continue
        near = shapely.buffer(piece.outline.exterior, least, quad_segs=4)
        edges = shapely.intersection([areas[number].exterior for number in piece.openings], near)
        yield from (part for part in shapely.get_parts(edges) if isinstance(part, LineString))
