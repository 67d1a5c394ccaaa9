"""Trims are cut from sheets without overlap, from as few as can be."""

import pytest
from made_pieces import SPEED, each, paper, pieces_of, star
from shapely import box

from peekpaper.papers.paper import Direction, Scrap, Shelf
from peekpaper.plan.make import plans
from peekpaper.plan.mats.sheets import placements_on_sheets
from peekpaper.plan.plan import PlanChoices

TRIM = (50.8, 76.2)


def test_trims_of_one_paper_are_cut_from_different_places_of_its_sheets() -> None:
    placements = placements_on_sheets([TRIM] * 30, paper(), PlanChoices())
    assert {placement.sheet for placement in placements} == {1, 2}
    for sheet in (1, 2):
        areas = [
            box(
                placement.x_mm,
                placement.y_mm,
                placement.x_mm + TRIM[placement.turned],
                placement.y_mm + TRIM[not placement.turned],
            )
            for placement in placements
            if placement.sheet == sheet
        ]
        apart = [a.intersection(b).area for k, a in enumerate(areas) for b in areas[:k]]
        assert max(apart, default=0.0) == pytest.approx(0.0, abs=1e-6)
        assert all(box(0, 0, 304.8, 304.8).buffer(1e-6).covers(area) for area in areas)


def test_a_one_way_paper_is_never_cut_sideways() -> None:
    placements = placements_on_sheets([TRIM] * 20, paper(direction=Direction.ONE_WAY), PlanChoices())
    assert not any(placement.turned for placement in placements)


def test_a_plan_tells_from_which_sheet_each_trim_is_cut_and_none_for_scraps() -> None:
    shelf = Shelf((paper(side_mm=200.0),), (Scrap("s1", "p1", 98.0, 98.0),))
    pieces = pieces_of([star(12, 45, 42) for _ in range(8)])
    *_, plan = plans(pieces, shelf, PlanChoices(rounds=each(0)), SPEED, 0)
    by_scrap = {trim.scrap: trim.cut_from for trim in plan.trims if trim.scrap}
    assert by_scrap == {"s1": None}
    sheets = {trim.cut_from.sheet for trim in plan.trims if trim.cut_from}
    assert sheets == set(range(1, dict(plan.sheets)["p1"] + 1))
