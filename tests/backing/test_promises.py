"""What every backing keeps, on the demo, on real designs and on random panels."""

from dataclasses import replace

import numpy as np
import pytest
from cards import backed, card_with
from hypothesis import given, settings
from hypothesis import strategies as st
from icons import NAMES, icon_panel
from measuring import broken_promises, has_bump_where_it_begins, lips
from panels import Panel, design_of, panels
from shapely import Polygon

from peekpaper.backing.backing import BackingChoices, Mode
from peekpaper.backing.make import backings, make_backing
from peekpaper.demo.harbour import demo_project
from peekpaper.design.design import Design
from peekpaper.pipeline import Pipeline, chosen_colourway

choices = st.builds(
    BackingChoices,
    lip_mm=st.sampled_from([0.5, 1.5, 3.0, 6.0]),
    gap_mm=st.sampled_from([0.0, 0.2, 0.4, 1.0]),
    clearance_mm=st.sampled_from([0.0, 0.4, 1.0]),
    edge_margin_mm=st.sampled_from([0.0, 1.0, 2.5]),
)


def all_backed(design: Design) -> dict[int, str]:
    return {opening.number: f"p{opening.number % 3}" for opening in design.openings}


def some_open(design: Design) -> dict[int, str]:
    return {number: paper for number, paper in all_backed(design).items() if number % 4}


def assert_lips_are_ideal(design: Design, papers: dict[int, str], wanted: BackingChoices) -> None:
    backing = make_backing(design, wanted, papers)
    assert broken_promises(design, backing, wanted) == []
    ratios = lips(design, backing, wanted).ratios()
    assert np.median(ratios) >= 0.99
    assert np.percentile(ratios, 5) >= 0.95


def test_the_demo_gets_its_ideal_lips() -> None:
    project = demo_project()
    design = Pipeline().design(project)
    assert_lips_are_ideal(design, dict(chosen_colourway(project).papers), project.backing)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("papers", [all_backed, some_open])
def test_a_real_design_gets_its_ideal_lips(name: str, papers) -> None:
    design = icon_panel(name)
    assert_lips_are_ideal(design, papers(design), BackingChoices())


@pytest.mark.parametrize("name", ["turtle", "sail-boat"])
def test_outlines_have_no_bump_where_their_rings_begin(name: str) -> None:
    design = icon_panel(name)
    backing = make_backing(design, BackingChoices(lip_mm=1.5), all_backed(design))
    for piece in backing.pieces:
        assert not has_bump_where_it_begins(piece.outline), f"piece {piece.number}"


@settings(max_examples=40)
@given(degrees=st.floats(1, 60), lip_mm=st.floats(0.12, 0.4))
def test_a_narrow_lip_loses_a_tenth_of_a_millimetre_at_most_at_a_sharp_tip(
    degrees: float, lip_mm: float
) -> None:
    half = 40 * np.tan(np.radians(degrees / 2))
    design = card_with(Polygon([(0, 0), (40, -half), (40, half)]))
    (piece,) = backed(design, BackingChoices(lip_mm=lip_mm)).pieces
    assert piece.outline.exterior.distance(design.openings[0].area) >= lip_mm - 0.1


@settings(max_examples=120)
@given(panel=panels(3), wanted=choices, leaves_some_open=st.booleans())
def test_random_panels_get_their_ideal_lips(
    panel: Panel, wanted: BackingChoices, leaves_some_open: bool
) -> None:
    design = design_of(panel.card)
    papers = some_open(design) if leaves_some_open else all_backed(design)
    backing = make_backing(design, wanted, papers)
    assert broken_promises(design, backing, wanted) == []
    ratios = lips(design, backing, wanted).ratios()
    if len(ratios) >= 200:
        assert np.median(ratios) >= 0.99
        assert np.percentile(ratios, 5) >= 0.95


@settings(max_examples=60)
@given(panel=panels(3), wanted=choices, shared_bar_mm=st.sampled_from([0.5, 2.0, 6.0]), uniform=st.booleans())
def test_shared_and_uniform_pieces_of_random_panels_keep_their_place(
    panel: Panel, wanted: BackingChoices, shared_bar_mm: float, uniform: bool
) -> None:
    design = design_of(panel.card)
    mode = Mode.UNIFORM if uniform else Mode.FITTED
    wanted = replace(wanted, mode=mode, shared_bar_mm=shared_bar_mm)
    backing = make_backing(design, wanted, some_open(design))
    assert broken_promises(design, backing, wanted) == []
    assert sorted(n for piece in backing.pieces for n in piece.openings) == sorted(some_open(design))


@settings(max_examples=40)
@given(panel=panels(3))
def test_smoothing_costs_a_lip_no_more_than_a_twentieth_or_a_tenth_of_a_millimetre(panel: Panel) -> None:
    design, wanted = design_of(panel.card), BackingChoices()
    fitted, smoothed = backings(design, wanted, all_backed(design))
    before = lips(design, fitted, wanted).achieved
    after = lips(design, smoothed, wanted).achieved
    assert (after >= np.minimum(before * 0.95, before - 0.1) - 1e-6).all()
