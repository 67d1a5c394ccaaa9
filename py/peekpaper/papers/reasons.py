"""Why a suggestion is as it is, and what it could not give, in sentences."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby

from peekpaper.papers.colour import TELLS_APART
from peekpaper.papers.palette import Palette
from peekpaper.papers.spread import Given

Names = Mapping[str, str]


def numbers_in_words(numbers: Iterable[int]) -> str:
    """Return opening numbers as read aloud: "3, 5 and 7–12"."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return listed([part for run in runs for part in _run_in_words(run)])


def _run_in_words(run: Sequence[int]) -> list[str]:
    return [f"{run[0]}–{run[-1]}"] if len(run) > 2 else [str(number) for number in run]


def listed(words: Sequence[str]) -> str:
    """Return the words as a list read aloud: "a, b and c"."""
    return " and ".join([*([", ".join(words[:-1])] if words[:-1] else []), *words[-1:]])


def reasons_for(
    given: Sequence[Given],
    palette: Palette,
    locked: Iterable[int],
    clear: frozenset[int],
    names: Names,
) -> tuple[str, ...]:
    """Return a sentence on the palette, one on each group of alike openings, one by paper on the rest.

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


def _on_palette(palette: Palette) -> Iterator[str]:
    names = listed([paper.name for paper in palette.papers])
    if len(palette.papers) > 1:
        yield (
            f"{names} were taken from {palette.choice} papers: any two of them differ by"
            f" {math.floor(palette.least_apart)} or more, and {TELLS_APART:.0f} is enough to tell neighbours"
            " apart."
            if palette.least_apart >= TELLS_APART
            else f"{names} were taken from {palette.choice} papers."
        )


def _on_group(group: Sequence[Given], names: Names) -> str:
    by_paper: dict[str, list[int]] = {}
    for one in group:
        by_paper.setdefault(one.paper, []).extend(one.alike.openings)
    numbers = [number for openings in by_paper.values() for number in openings]
    subject = f"Opening{'s' if len(numbers) > 1 else ''} {numbers_in_words(numbers)}"
    wish = group[0].alike.wish
    if len(by_paper) == 1:
        (paper,) = by_paper
        if wish is None:
            return f"{subject} are alike, so all get {names[paper]}."
        verb = "get" if len(numbers) > 1 else "gets"
        if paper == wish:
            return f"{subject} {verb} {names[paper]} like the locked opening of the same shape."
        return (
            f"{subject} {verb} {names[paper]}, not {names[wish]} like the locked opening of the same shape:"
            " that keeps neighbours apart, or uses every paper."
        )
    shares = [f"{names[paper]} behind {numbers_in_words(openings)}" for paper, openings in by_paper.items()]
    return f"{subject} are alike, but to keep neighbours apart they take turns: {'; '.join(shares)}."


def _on_singles(singles: Sequence[Given], clear: frozenset[int], names: Names) -> Iterator[str]:
    by_paper: dict[str, list[int]] = {}
    for one in singles:
        by_paper.setdefault(one.paper, []).extend(one.alike.openings)
    for paper, numbers in by_paper.items():
        subject, verbs, whose = (
            (f"Openings {numbers_in_words(numbers)}", "match no others and get", "their")
            if len(numbers) > 1
            else (f"Opening {numbers[0]}", "matches no other and gets", "its")
        )
        why = f", which none of {whose} neighbours has" if clear.issuperset(numbers) else ""
        yield f"{subject} {verbs} {names[paper]}{why}."


def _on_locked(locked: Iterable[int]) -> Iterator[str]:
    numbers = list(locked)
    if numbers:
        subject, verb = ("Openings", "keep") if len(numbers) > 1 else ("Opening", "keeps")
        yield f"{subject} {numbers_in_words(numbers)} {verb} what you locked."


def on_too_small(numbers: Iterable[int]) -> Iterator[str]:
    """Yield a sentence on the openings that stay open because they are too small to back."""
    small = list(numbers)
    if small:
        subject, is_, stay = ("Openings", "are", "stay") if len(small) > 1 else ("Opening", "is", "stays")
        yield f"{subject} {numbers_in_words(small)} {is_} too small to back with ease, and {stay} open."


def unmet_count(wanted: int, at_hand: int) -> Iterator[str]:
    """Yield a sentence where fewer papers are at hand than were asked for."""
    if at_hand < wanted:
        papers = "one paper is" if at_hand == 1 else f"{at_hand} papers are"
        yield f"You asked for {wanted} papers, but only {papers} at hand: add papers to the shelf for more."


def unmet_sizes(oversized: Mapping[str, Sequence[int]], names: Names) -> Iterator[str]:
    """Yield a sentence for each paper whose sheet is too small for openings that it was given."""
    for paper, numbers in oversized.items():
        plural = "s" if len(numbers) > 1 else ""
        yield (
            f"Opening{plural} {numbers_in_words(numbers)} will not fit on a sheet of {names[paper]}:"
            " add a larger paper to the shelf."
        )


def unmet_sharing(shared: Sequence[tuple[int, int]], fewest: int | None) -> Iterator[str]:
    """Yield a sentence where neighbours share a paper; `fewest` papers would do, None if unknown."""
    if not shared:
        return
    first, second = shared[0]
    more = f" (and {len(shared) - 1} more pairs)" if len(shared) > 2 else " (and one more pair)"
    pairs = f"Openings {first} and {second}{more if len(shared) > 1 else ''}"
    advice = f": with {fewest} papers no neighbours need to" if fewest is not None else ""
    yield f"{pairs} lie side by side and share a paper{advice}."


def unmet_nearness(
    near: Mapping[tuple[str, str], Sequence[tuple[int, int]]], palette: Palette, names: Names
) -> Iterator[str]:
    """Yield a sentence for each two papers side by side that are hard to tell apart, by their ids."""
    places = {paper.id: place for place, paper in enumerate(palette.papers)}
    for (first, second), pairs in near.items():
        apart = palette.apart[places[first], places[second]]
        where = f"openings {pairs[0][0]} and {pairs[0][1]}"
        more = f" and {len(pairs) - 1} more" if len(pairs) > 1 else ""
        yield (
            f"{names[first]} and {names[second]} lie side by side at {where}{more}, but are hard to tell"
            f" apart (they differ by {math.floor(apart)}, and {TELLS_APART:.0f} is easy to see)."
        )
