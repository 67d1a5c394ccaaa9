"""Mends that ask for hours of work are refused before any of it is done; those of real designs never are."""

import numpy as np
import pytest
from shapely import MultiPolygon, box

from peekpaper.design.mending.apply import apply_mends
from peekpaper.design.mending.mends import AddBar, AddCard, Change, CutOpening, Mend, RubOut, Thicken
from peekpaper.design.placing import Placing
from peekpaper.geometry.crossings import cross_more_often
from peekpaper.refusal import Refusal

CARD = MultiPolygon([box(0, 0, 200, 200)])


def scrawl(count: int, seed: int = 1) -> tuple[tuple[float, float], ...]:
    return tuple(map(tuple, np.random.default_rng(seed).uniform(0, 200, (count, 2)).tolist()))


def mended(*changes: Change) -> MultiPolygon:
    mends = [Mend(f"m{number}", change) for number, change in enumerate(changes)]
    return apply_mends(CARD, mends, Placing(1.0, 0.0, 0.0)).area


@pytest.mark.parametrize(
    "changes",
    [
        [RubOut(scrawl(2_000), 0.1)],
        [CutOpening(scrawl(20_000))],
        [AddCard((scrawl(2_000),))],
        [AddCard((scrawl(100),), turns=((1, 0, 0, 0, 1, 0),) * 10_000)],
        [Thicken(scrawl(50, seed), 0.1) for seed in range(400)],
        [AddBar(scrawl(2, seed), 0.1) for seed in range(5_000)],
    ],
    ids=["rubbed", "cut", "card", "turns", "wider", "bars"],
)
def test_mends_that_cross_beyond_measure_are_refused(changes: list[Change]) -> None:
    with pytest.raises(Refusal) as refused:
        mended(*changes)
    assert refused.value.code == "mends-too-tangled"


def test_thousands_of_bars_side_by_side_and_a_scrawl_of_a_finger_are_made() -> None:
    bars = [Thicken(((x, y), (x, y + 3)), 0.5) for x in range(2, 198, 2) for y in range(2, 198, 6)]
    assert mended(*bars).area == pytest.approx(40_000)
    assert mended(RubOut(scrawl(60), 1.0)).area < 35_000


@pytest.mark.parametrize("count", [3, 12, 40])
def test_crossings_of_a_grid_of_lines_are_counted_once_each(count: int) -> None:
    ways = np.arange(count) + 0.5
    across = [np.array([(0, way), (count, way)]) for way in ways]
    down = [np.array([(way, 0), (way, count)]) for way in ways]
    assert not cross_more_often([*across, *down], count**2)
    assert cross_more_often([*across, *down], count**2 - 1)
