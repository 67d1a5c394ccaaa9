"""How near plans come to a strip packer given a minute, how soon the first stands, what 300 pieces take.

All of it natively and in the page's Python. Time is processor time, ten seconds of it for each case.
"""

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import asdict, dataclass, field
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import shapely

from both_sides import in_page, natively
from peekpaper.papers.paper import Direction, Shelf
from peekpaper.plan.plan import PieceToPlace, PlanChoices
from plan_cases import CASES, Case, pieces_and_shelf
from strip_reference import SECONDS as REFERENCE_SECONDS
from strip_reference import reference_area
from table import Row

SECONDS = 10.0
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
    choices: dict[str, float | None] = field(default_factory=dict)
    seconds: float = SECONDS


def main() -> Iterable[Row]:
    """Yield a row for each case and side, their means and worsts, and the large case."""
    least: dict[str, float] = {}
    asked = []
    for case in CASES:
        pieces, shelf = pieces_and_shelf(case)
        asked.append(_asked(case.name, pieces, shelf))
        least[case.name] = _reference(case, pieces, shelf)
    pieces, shelf = pieces_and_shelf(LARGE)
    large = _asked(LARGE.name, pieces[:LARGE_PIECES], shelf)
    asked.append(large)
    for side, answers in (("native", _natively(asked)), ("page", _in_page(asked))):
        of = {answer["name"]: answer for answer in answers}
        yield from _against_reference(side, {name: of[name] for name in least}, least)
        yield from _large(side, of[large.name])
        longest = max(answers, key=lambda answer: answer["pause_s"])
        yield Row("plan", f"longest pause, {side}", longest["pause_s"], "s", note=longest["name"])


def _against_reference(side: str, of: dict[str, Told], least: dict[str, float]) -> Iterator[Row]:
    first = {name: told["first_mm2"] / least[name] for name, told in of.items()}
    last = {name: told["last_mm2"] / least[name] for name, told in of.items()}
    for name, told in of.items():
        note = f"{first[name]:.3f} at 1 s, {told['rounds']} rounds; reference {least[name] / 100:.0f} cm2"
        yield Row("plan", f"{name}, {side}", last[name], "x", note=note)
    note = f"{len(of)} cases, against a strip packer's {REFERENCE_SECONDS} s"
    mean_at_most = {"native": 1.03, "page": 1.05}[side]
    yield Row("plan", f"mean, {side}", sum(last.values()) / len(last), "x", mean_at_most, note=note)
    yield Row("plan", f"worst, {side}", max(last.values()), "x", 1.12, note=note)
    yield Row("plan", f"worst at 1 s, {side}", max(first.values()), "x", 1.20, note=note)


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
