"""Backing: the time it takes, how that grows, and the preview after one control was moved."""

from collections.abc import Iterator
from dataclasses import replace

from figure import Figure, seconds
from waves import NODES, two_papers, waves

from peekpaper.backing.backing import Backing, BackingChoices
from peekpaper.backing.kept import BackingBench
from peekpaper.backing.make import backings, make_backing

Step = tuple[BackingChoices, dict[int, str]]


def figures() -> Iterator[Figure]:
    yield from _speed()
    yield from _controls()


def _speed() -> Iterator[Figure]:
    before = 0.0
    for count in (200, 250, 500, 1000, 2000):
        design = waves(count)
        papers = two_papers(design)
        taken, backing = seconds(
            lambda design=design, papers=papers: make_backing(design, BackingChoices(), papers),
            repeats=3 if count <= 500 else 2,
        )
        native, page = (1.0, 3.0) if count == 200 else (None, None)
        note = f"{backing.nodes_after / len(backing.pieces):.0f} nodes a piece"
        yield Figure(f"{count} openings, {count * NODES:,} edge points", taken, "s", native, page, note)
        if count > 250:
            yield Figure(f"{count} against {count // 2} openings", taken / before, "times", 2.4, 2.4)
        before = taken


def _controls() -> Iterator[Figure]:
    design, choices = waves(200), BackingChoices()
    papers = two_papers(design)
    bench = BackingBench()
    make_backing(design, choices, papers, bench)
    places = (50, 60, 70)
    moves: dict[str, list[Step]] = {
        "lip": [(replace(choices, lip_mm=lip), papers) for lip in (2.0, 2.2, 2.4)],
        "least lip": [(replace(choices, least_lip_mm=least), papers) for least in (0.6, 0.7, 0.9)],
        "gap": [(replace(choices, gap_mm=gap), papers) for gap in (0.5, 0.6, 0.7)],
        "one paper": [(choices, papers | {number: "p7"}) for number in places],
        "one taken off": [(choices, {n: p for n, p in papers.items() if n != gone}) for gone in places],
        "one put on": [(choices, papers) for _ in places],
    }
    for name, steps in moves.items():
        left = list(steps)

        def preview(left: list[Step] = left) -> Backing:
            wanted, chosen = left.pop()
            return next(backings(design, wanted, chosen, bench))

        if name == "one put on":
            times = []
            for gone in places:
                next(backings(design, choices, {n: p for n, p in papers.items() if n != gone}, bench))
                times.append(seconds(preview, repeats=1)[0])
            taken = min(times)
        else:
            taken, _ = seconds(preview)
        yield Figure(f"preview after moving {name}, 200 openings", taken, native=0.3, page=0.3)
