"""Icons that nobody here drew, read as designs: real compound paths, strokes and nested shapes."""

import sys
from collections import Counter
from pathlib import Path

import pytest

from peekpaper.design.design import Design, Limits, Reading
from peekpaper.design.make import make_design
from peekpaper.drawing.read import read_drawing
from peekpaper.refusal import Refusal

sys.path.insert(0, str(Path(__file__).parents[1] / "drawing"))

from icon_sets import all_icons

EVERY = 80


@pytest.fixture(scope="module")
def designs() -> list[Design | None]:
    """Every eightieth icon at a width of 8 in, None where it is refused."""
    return [designed(data) for _, data in all_icons()[::EVERY]]


def designed(data: bytes) -> Design | None:
    try:
        return make_design(read_drawing(data, 0.01), Reading(width_mm=203.2), Limits())
    except Refusal:
        return None


def test_nearly_every_icon_is_a_design(designs):
    assert sum(design is not None for design in designs) >= 0.99 * len(designs)


def test_card_and_openings_of_every_icon_are_valid(designs):
    for design in designs:
        if design is not None:
            assert design.card.is_valid
            assert all(opening.area.is_valid for opening in design.openings)
            assert design.width_mm == pytest.approx(203.2)


def test_icons_drawn_with_thick_lines_and_fills_are_mostly_read_as_solids(designs):
    habits = Counter(design.habits[0] for design in designs if design is not None)
    assert habits["solids"] > 0.6 * len(designs)
