"""Where mending all makes another picture of a design, what would change less is tried before it is said."""

from dataclasses import replace

import pytest

from peekpaper.design.mending.lighter import Lighter
from peekpaper.pipeline import Pipeline
from peekpaper.project.document import new_project
from peekpaper.project.project import Project

LINES = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">'
    '<path fill-rule="evenodd" d="M0 0H100V100H0ZM{0}"/></svg>'
)


def lattice(bar: float, panes: int) -> str:
    """Return a panel of square panes with bars of a width in mm between and around them."""
    pane = (100 - bar) / panes
    squares = "M".join(
        f"{bar + pane * x} {bar + pane * y}h{pane - bar}v{pane - bar}h{bar - pane}z"
        for x in range(panes)
        for y in range(panes)
    )
    return LINES.format(squares)


def said(pipeline: Pipeline, project: Project) -> list[Lighter]:
    """Return what is said once all was tried."""
    return [choice for choice in pipeline.lighter(project) if choice is not None]


def test_a_size_and_a_limit_are_said_with_which_mending_all_changes_as_little_as_it_is_said() -> None:
    project, pipeline = new_project("lattice.svg", lattice(0.7, 6)), Pipeline()
    as_it_is, larger, thinner = said(pipeline, project)
    # Each bar is 0.7 of the wanted 1.56 mm wide: about the rest is added.
    assert as_it_is.share == pytest.approx((1.56 - 0.7) / 0.7, rel=0.15)
    assert larger.width_mm is not None
    assert 100 * 1.35 / 0.7 <= larger.width_mm <= 100 * 1.6 / 0.7
    # Of what is round in inches, 1/64 in is the widest that most bars are wide enough for.
    assert thinner.bar_mm == pytest.approx(25.4 / 64)
    quarters = larger.width_mm / 25.4 * 4
    assert quarters == pytest.approx(round(quarters))
    for choice in (larger, thinner):
        assert choice.share <= 0.08
    reading = replace(project.reading, width_mm=larger.width_mm)
    [again] = said(pipeline, replace(project, reading=reading))
    assert again.share == larger.share


def test_what_is_said_is_round_in_the_unit_of_the_project() -> None:
    project = replace(new_project("lattice.svg", lattice(0.7, 3)), units="mm")
    _, larger, thinner = said(Pipeline(), project)
    assert larger.width_mm is not None
    assert larger.width_mm % 5 == 0
    assert thinner.bar_mm == pytest.approx(0.6)


def test_where_little_changes_nothing_else_is_said() -> None:
    [as_it_is] = said(Pipeline(), new_project("lattice.svg", lattice(1.49, 3)))
    assert 0 < as_it_is.share < 0.08


def test_a_hand_need_not_wait_until_a_choice_was_tried_to_the_end() -> None:
    trying = Pipeline().lighter(new_project("lattice.svg", lattice(0.7, 6)))
    first, second = next(trying), next(trying)
    assert first is second is None
