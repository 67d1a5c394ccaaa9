"""Why a suggestion is as it is, and what it could not give."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby

from peekpaper.message import Message, message
from peekpaper.papers.colour import TELLS_APART
from peekpaper.papers.palette import Palette
from peekpaper.papers.spread import Given

Names = Mapping[str, str]


def reasons_for(
    given: Sequence[Given],
    palette: Palette,
    locked: Iterable[int],
    clear: frozenset[int],
    names: Names,
) -> tuple[Message, ...]:
    """Return what is told of the palette, one on each group of alike openings, one by paper on the rest.

    `clear` are the openings that share a paper with no neighbour, `names` the papers' names by id.
    """
    by_group = [
        list(group) for _, group in groupby(sorted(given, key=_group), key=lambda one: one.alike.group)
    ]
    groups = [group for group in by_group if _is_group(group)]
    singles = [one for group in by_group if not _is_group(group) for one in group]
    groups.sort(key=lambda group: min(one.alike.openings[0] for one in group))
    return (
        *_on_palette(palette),
        *(_on_group(group, names) for group in groups),
        *_on_singles(singles, clear, names),
        *_on_locked(locked),
    )


def _group(one: Given) -> tuple[int, tuple[int, ...]]:
    return one.alike.group, one.alike.openings


def _is_group(group: Sequence[Given]) -> bool:
    return sum(len(one.alike.openings) for one in group) > 1 or group[0].alike.wish is not None


def _on_palette(palette: Palette) -> Iterator[Message]:
    papers = tuple(paper.name for paper in palette.papers)
    if len(papers) > 1:
        key = "reason.taken-apart" if palette.least_apart >= TELLS_APART else "reason.taken"
        yield message(key, papers=papers, count=palette.choice)


def _on_group(group: Sequence[Given], names: Names) -> Message:
    by_paper: dict[str, list[int]] = {}
    for one in group:
        by_paper.setdefault(one.paper, []).extend(one.alike.openings)
    numbers = tuple(number for openings in by_paper.values() for number in openings)
    count, wish = len(numbers), group[0].alike.wish
    if len(by_paper) > 1:
        shares = tuple(
            message("reason.share", paper=names[paper], openings=tuple(openings))
            for paper, openings in by_paper.items()
        )
        return message("reason.turns", count=count, openings=numbers, shares=shares)
    (paper,) = by_paper
    name = names[paper]
    if wish is None:
        return message("reason.alike", count=count, openings=numbers, paper=name)
    if paper == wish:
        return message("reason.like-locked", count=count, openings=numbers, paper=name)
    return message("reason.unlike-locked", count=count, openings=numbers, paper=name, locked=names[wish])


def _on_singles(singles: Sequence[Given], clear: frozenset[int], names: Names) -> Iterator[Message]:
    by_paper: dict[str, list[int]] = {}
    for one in singles:
        by_paper.setdefault(one.paper, []).extend(one.alike.openings)
    for paper, numbers in by_paper.items():
        key = "reason.unlike-clear" if clear.issuperset(numbers) else "reason.unlike"
        yield message(key, count=len(numbers), openings=tuple(numbers), paper=names[paper])


def _on_locked(locked: Iterable[int]) -> Iterator[Message]:
    numbers = tuple(locked)
    if numbers:
        yield message("reason.locked", count=len(numbers), openings=numbers)


def on_too_small(numbers: Iterable[int]) -> Iterator[Message]:
    """Yield what is told of the openings that stay open because they are too small to back."""
    small = tuple(numbers)
    if small:
        yield message("reason.too-small", count=len(small), openings=small)


def unmet_count(wanted: int, at_hand: int) -> Iterator[Message]:
    """Yield what is told where fewer papers are at hand than were asked for."""
    if at_hand < wanted:
        yield message("unmet.count", wanted=wanted, count=at_hand)


def unmet_sizes(oversized: Mapping[str, Sequence[int]], names: Names) -> Iterator[Message]:
    """Yield what is told of each paper whose sheet is too small for openings that it was given."""
    for paper, numbers in oversized.items():
        yield message("unmet.size", count=len(numbers), openings=tuple(numbers), paper=names[paper])


def unmet_sharing(shared: Sequence[tuple[int, int]], fewest: int | None) -> Iterator[Message]:
    """Yield what is told where neighbours share a paper; `fewest` papers would do, None if unknown."""
    if not shared:
        return
    pairs = _pairs(shared)
    if fewest is None:
        yield message("unmet.sharing", pairs=pairs)
    else:
        yield message("unmet.sharing-needless", pairs=pairs, count=fewest)


def unmet_nearness(
    near: Mapping[tuple[str, str], Sequence[tuple[int, int]]], names: Names
) -> Iterator[Message]:
    """Yield what is told of each two papers side by side that are hard to tell apart, by their ids."""
    for (first, second), pairs in near.items():
        yield message("unmet.nearness", first=names[first], second=names[second], pairs=_pairs(pairs))


def _pairs(pairs: Sequence[tuple[int, int]]) -> Message:
    """Return the first of some pairs of openings, and how many more there are."""
    first, second = pairs[0]
    if len(pairs) == 1:
        return message("unmet.pair", first=first, second=second)
    return message("unmet.pairs", first=first, second=second, count=len(pairs) - 1)
