"""Lines that end where others begin, joined to longer ones."""

from collections import defaultdict
from collections.abc import Sequence

from peekpaper.sources.vector import Outline


def joined(lines: Sequence[Outline], reach: float) -> list[Outline]:
    """Return the open lines joined end to end where two ends lie in one cell of a grid of `reach`.

    Lines may be turned round; each end is joined to one other at most, and a line whose own ends meet is
    closed. Wider gaps are closed by the reading of the design, which tells them.
    """
    ends: dict[tuple[int, int], list[int]] = defaultdict(list)
    cells = []
    for index, line in enumerate(lines):
        for which, point in enumerate((line.start, line.end)):
            cell = (round(point.real / reach), round(point.imag / reach))
            cells.append(cell)
            ends[cell].append(2 * index + which)
    used = [False] * len(lines)

    def run(end: int) -> list[Outline]:
        """Return the lines that follow from one, `end` the end that is left behind."""
        found = []
        while True:
            index = end // 2
            used[index] = True
            found.append(lines[index] if end % 2 == 0 else lines[index].backwards)
            after = [other for other in ends[cells[end ^ 1]] if not used[other // 2]]
            if not after:
                return found
            end = after[0]

    chains = []
    for index in range(len(lines)):
        if used[index]:
            continue
        ahead = run(2 * index)
        behind = [other for other in ends[cells[2 * index]] if not used[other // 2]]
        before = [line.backwards for line in reversed(run(behind[0]))] if behind else []
        chains.append(_as_one([*before, *ahead], reach))
    return chains


def _as_one(chain: Sequence[Outline], reach: float) -> Outline:
    segments = tuple(segment for line in chain for segment in line.segments)
    start, end = chain[0].start, chain[-1].end
    return Outline(start, segments, len(segments) > 1 and abs(start - end) <= reach)
