"""What to buy again: the sheets that projects need beyond those at hand, and the papers that run low."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from peekpaper.bounds import Name, Some, Tag, Whole
from peekpaper.papers.paper import Paper, Shelf
from peekpaper.papers.stash import runs_low


@dataclass(frozen=True, slots=True)
class Need:
    """The sheets that one project's plan takes, by the ids of its own papers; those cut already are none."""

    project: Name
    papers: Some[Paper]
    sheets: Mapping[str, Whole]


@dataclass(frozen=True, slots=True)
class ReorderRow:
    """A paper: sheets `needed` by the `projects` named, `at_hand` (None: not counted) and `to_buy`.

    `is_low` tells that one sheet at most is left once the projects have theirs. Sheets that nobody counted
    are all to be bought, at most. `cost` is None where no price is known, `stash` the paper's id there or
    None.
    """

    paper: Paper
    stash: Tag | None
    needed: int
    projects: tuple[str, ...]
    at_hand: int | None
    to_buy: int
    is_low: bool
    cost: float | None


def reorder(stash: Shelf, needs: Sequence[Need]) -> tuple[ReorderRow, ...]:
    """Return a row for each paper that is to be bought or runs low, those to be bought first.

    What several projects need of one paper of the stash is summed before it is set against what is there; a
    paper that no stash holds counts for its own project.
    """
    held = {paper.id: paper for paper in stash.papers}
    low = [_Wanted(paper.id, paper, 0, "") for paper in stash.papers if runs_low(paper)]
    by_paper: dict[tuple[str | None, str], list[_Wanted]] = {}
    for place, need in enumerate(needs):
        for one in _wanted(need, held):
            # A paper of a project's own is another one in each.
            own = one.paper.id if one.stash else f"{place} {one.paper.id}"
            by_paper.setdefault((one.stash, own), []).append(one)
    for one in low:
        by_paper.setdefault((one.stash, one.paper.id), []).append(one)
    rows = [_row(wanted) for wanted in by_paper.values()]
    told = [row for row in rows if row.to_buy > 0 or row.is_low]
    return tuple(sorted(told, key=lambda row: (row.to_buy == 0, row.paper.collection, row.paper.name)))


@dataclass(frozen=True, slots=True)
class _Wanted:
    """How many sheets of a paper, as it is by now, a project takes."""

    stash: str | None
    paper: Paper
    sheets: int
    project: str


def _wanted(need: Need, held: Mapping[str, Paper]) -> Iterator[_Wanted]:
    for paper in need.papers:
        count = need.sheets.get(paper.id, 0)
        stash = paper.stash if paper.stash in held else None
        if count > 0:
            yield _Wanted(stash, held[stash] if stash else paper, count, need.project)


def _row(wanted: Sequence[_Wanted]) -> ReorderRow:
    paper, stash = wanted[0].paper, wanted[0].stash
    needed = sum(one.sheets for one in wanted)
    projects = tuple(dict.fromkeys(one.project for one in wanted if one.sheets > 0))
    to_buy = max(0, needed - (paper.sheets or 0))
    is_low = paper.sheets is not None and not paper.is_printed and paper.sheets - needed <= 1
    cost = None if paper.price is None else to_buy * paper.price
    return ReorderRow(paper, stash, needed, projects, paper.sheets, to_buy, is_low, cost)
