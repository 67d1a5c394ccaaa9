"""How few pieces would do, were neighbours of one paper to share pieces across wider bars."""

from collections.abc import Iterable, Iterator, Mapping
from itertools import takewhile

import shapely
from shapely import Polygon

from peekpaper.backing.backing import BackingChoices, FewerPieces
from peekpaper.backing.sharing import NarrowBar, Sharing, narrow_bars, sharing_across, spanned

_LIMITS_MM = (1.5, 2.0, 2.5, 3.0, 4.0)
"""Bars that one piece may well span: under a wider one paper is wasted that nobody sees (from memory)."""

_NEARLY_ALL = 0.9
"""The narrowest limit that saves this share of what the widest saves is offered."""

_LEAST_SAVED, _LEAST_SHARE = 5, 1 / 3
"""It pays from so many pieces on, and from this share of all (from memory)."""


def fewer_pieces(
    openings: Mapping[int, Polygon], papers: Mapping[int, str], choices: BackingChoices, now: int
) -> FewerPieces | None:
    """Return the narrowest limit for thin bars that saves about all there is to save, None where none pays.

    `openings` are all, by number; `papers` gives the papers of those that are backed. `now` is how many
    pieces there are.
    """
    limits = [limit for limit in _LIMITS_MM if limit > (choices.shared_bar_mm or 0.0)]
    if not limits or now - len(set(papers.values())) < _LEAST_SAVED:
        return None
    bars = narrow_bars(openings, papers, limits[-1])
    sharings = (
        (limit, sharing_across(_under(limit, bars), openings, papers, choices)) for limit in reversed(limits)
    )
    widest = next(sharings)
    most = now - len(widest[1].pieces)
    if most < max(_LEAST_SAVED, _LEAST_SHARE * now):
        return None
    near = takewhile(lambda one: now - len(one[1].pieces) >= _NEARLY_ALL * most, sharings)
    limit_mm, sharing = [widest, *near][-1]
    pieces = sum(_parts(sharing, piece, openings) for piece in sharing.pieces)
    if now - pieces < max(_LEAST_SAVED, _LEAST_SHARE * now):
        return None
    return FewerPieces(limit_mm, pieces, tuple(group for group in sharing.pieces.values() if len(group) > 1))


def _under(limit_mm: float, bars: Iterable[NarrowBar]) -> Iterator[NarrowBar]:
    """Yield the bars under a limit, given all with the narrowest first."""
    return takewhile(lambda bar: bar[0] < limit_mm, bars)


def _parts(sharing: Sharing, piece: int, openings: Mapping[int, Polygon]) -> int:
    """Return in how many parts a shared piece would come."""
    numbers = sharing.pieces[piece]
    if len(numbers) == 1:
        return 1
    together = shapely.multipolygons([openings[number] for number in numbers])
    return shapely.get_num_geometries(spanned(together, sharing.spans_mm[piece])).item()
