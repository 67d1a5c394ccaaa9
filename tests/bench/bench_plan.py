"""How near plans come to a strip packer given a minute, how full trims of openwork are, what 300 pieces take.

All of it natively and in the page's Python. Time is processor time, ten seconds of it for each case.
"""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import shapely

from both_sides import in_page, natively
from peekpaper.papers.paper import Direction, Shelf
from peekpaper.plan.plan import PieceToPlace, PlanChoices
from plan_cases import (
    CASES,
    OPENWORK,
    Case,
    pieces_and_shelf,
    pieces_of_openwork,
    pieces_of_the_demo,
)
from strip_reference import SECONDS as REFERENCE_SECONDS
from strip_reference import reference_area
from table import Row

MOMENTS = (1.0, 3.0, 10.0)
"""After how many seconds of processor time plans are looked at; the search ends with the last."""
CHOICES = PlanChoices()
LARGE, LARGE_PIECES = Case("300 pieces", 13, 310, 14.0, (Direction.ANY,)), 300
MEASURED = """
from plan import measured
told = json.dumps(list(measured({folder})))
"""
Told = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Asked:
    """A case as `sides/plan.py` reads it: pieces as number, paper and outline (WKB in hexadecimal)."""

    name: str
    pieces: list[tuple[int, str, str]]
    papers: list[tuple[str, str]]
    moments: tuple[float, ...] = MOMENTS


def main() -> Iterable[Row]:
    """Yield a row for each case and side, means and worsts, and the large case."""
    least: dict[str, float] = {}
    grown: dict[str, float] = {}
    asked = []
    for case in CASES:
        pieces, shelf = pieces_and_shelf(case)
        asked.append(_asked(case.name, pieces, shelf))
        least[case.name] = _reference(case, pieces, shelf)
    for name, (pieces, shelf) in _openwork():
        asked.append(_asked(name, pieces, shelf))
        grown[name] = sum(piece.outline.buffer(CHOICES.spacing_mm / 2).area for piece in pieces)
    pieces, shelf = pieces_and_shelf(LARGE)
    large = _asked(LARGE.name, pieces[:LARGE_PIECES], shelf)
    asked.append(large)
    for side, answers in (("native", _natively(asked)), ("page", _in_page(asked))):
        of = {answer["name"]: answer for answer in answers}
        yield from _against_reference(side, {name: of[name] for name in least}, least)
        yield from _openwork_rows(side, {name: of[name] for name in grown}, grown)
        yield from _large(side, of[large.name])
        longest = max(answers, key=lambda answer: answer["pause_s"])
        yield Row("plan", f"longest pause, {side}", longest["pause_s"], "s", note=longest["name"])


def asked_of_all(folder: Path) -> None:
    """Write all cases but the large one to a folder, for a look at another version of the package."""
    cases = [_asked(case.name, *pieces_and_shelf(case)) for case in CASES]
    _write([*cases, *(_asked(name, *made) for name, made in _openwork())], folder)


def _openwork() -> Iterator[tuple[str, tuple[list[PieceToPlace], Shelf]]]:
    for panel in OPENWORK:
        yield panel.name, pieces_of_openwork(panel)
    yield "the demo, ten papers", pieces_of_the_demo()


def _against_reference(side: str, of: dict[str, Told], least: dict[str, float]) -> Iterator[Row]:
    ratios = {name: [area / least[name] for area in told["areas_mm2"]] for name, told in of.items()}
    for name, told in of.items():
        note = f"{_earlier(ratios[name])}, {told['rounds']} rounds; reference {least[name] / 100:.0f} cm2"
        yield Row("plan", f"{name}, {side}", ratios[name][-1], "x", note=note)
    note = f"{len(of)} cases, against a strip packer's {REFERENCE_SECONDS} s"
    mean_at_most = {"native": 1.03, "page": 1.05}[side]
    yield from _means(f"icons, {side}", ratios, note, mean_at_most)
    yield Row("plan", f"worst, {side}", max(ratio[-1] for ratio in ratios.values()), "x", 1.12, note=note)
    yield Row(
        "plan", f"worst at 1 s, {side}", max(ratio[0] for ratio in ratios.values()), "x", 1.20, note=note
    )


def _openwork_rows(side: str, of: dict[str, Told], grown: dict[str, float]) -> Iterator[Row]:
    ratios = {name: [area / grown[name] for area in told["areas_mm2"]] for name, told in of.items()}
    for name, told in of.items():
        note = f"{_earlier(ratios[name])}, {told['rounds']} rounds; {told['areas_mm2'][-1] / 100:.0f} cm2"
        yield Row("plan", f"{name}, {side}", ratios[name][-1], "x", note=note)
    note = f"{len(of)} panels, against the pieces with half the spacing round them"
    yield from _means(f"openwork, {side}", ratios, note)


def _means(
    name: str, ratios: Mapping[str, Sequence[float]], note: str, at_most: float | None = None
) -> Iterator[Row]:
    for number, moment in enumerate(MOMENTS):
        mean = sum(ratio[number] for ratio in ratios.values()) / len(ratios)
        limit = at_most if moment == MOMENTS[-1] else None
        yield Row("plan", f"mean of {name}, {moment:g} s", mean, "x", limit, note=note)


def _earlier(ratios: Sequence[float]) -> str:
    parts = zip(ratios[:-1], MOMENTS, strict=False)
    return ", ".join(f"{ratio:.3f} at {moment:g} s" for ratio, moment in parts)


def _large(side: str, told: Told) -> Iterator[Row]:
    yield Row("plan", f"300 pieces, first answer, {side}", told["answer_s"], "s", 3.0)
    if side == "page":
        yield Row("plan", "300 pieces, memory of the page's Python", told["heap_mb"], "MB", 500)


def _asked(name: str, pieces: Sequence[PieceToPlace], shelf: Shelf) -> Asked:
    return Asked(
        name,
        [(piece.number, piece.paper, shapely.to_wkb(piece.outline, hex=True)) for piece in pieces],
        [(paper.id, paper.direction.value) for paper in shelf.papers],
    )


def _reference(case: Case, pieces: Sequence[PieceToPlace], shelf: Shelf) -> float:
    return sum(
        reference_area(case.name, [piece for piece in pieces if piece.paper == paper.id], paper, CHOICES)
        for paper in shelf.papers
    )


def _natively(asked: Sequence[Asked]) -> list[Told]:
    with TemporaryDirectory() as folder:
        _write(asked, Path(folder))
        return natively(MEASURED.format(folder=repr(folder)))


def _in_page(asked: Sequence[Asked]) -> list[Told]:
    with TemporaryDirectory() as folder:
        _write(asked, Path(folder))
        return in_page(MEASURED.format(folder=repr("/cases")), mounts={Path(folder): "/cases"})


def _write(asked: Sequence[Asked], folder: Path) -> None:
    for number, case in enumerate(asked):
        (folder / f"{number:02}.json").write_text(json.dumps(asdict(case)))
