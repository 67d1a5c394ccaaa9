"""What was once saved, as a file, a shelf or a link, still opens with all that its owner decided."""

from pathlib import Path

import pytest

from peekpaper.plan.plan import PiecePin
from peekpaper.project.document import from_json
from peekpaper.project.link import from_link
from peekpaper.project.project import Project
from peekpaper.project.shelf_file import shelf_from_json

KEPT = Path(__file__).parent / "samples" / "kept"


@pytest.fixture(params=["file", "link", "link on another mat"])
def window(request: pytest.FixtureRequest) -> Project:
    """A project saved before pictures could go along, as it came by either way."""
    if request.param == "file":
        return from_json((KEPT / "window project.json").read_text())
    return from_link((KEPT / f"window {request.param}.txt").read_text())


def test_a_kept_project_has_its_colourways_papers_and_locks(window: Project) -> None:
    dusk, dawn = window.colourways
    first, second, third = (paper.id for paper in window.shelf.papers[:3])
    assert (dusk.name, dusk.papers, dusk.locked) == ("Dusk", {1: first, 2: second}, (1,))
    assert (dawn.name, dawn.papers, window.colourway) == ("Dawn", {2: third}, "c2")


def test_a_kept_project_has_its_pins_page_and_ticks(window: Project) -> None:
    assert window.plan.piece_pins == (PiecePin(1, "t1", 90.0, 12.7, 25.4),)
    (pin,) = window.plan.trim_pins
    assert (pin.width_mm, pin.height_mm, pin.x_mm, pin.y_mm) == (63.5, 50.8, 25.4, 12.7)
    assert [block.kind for block in window.page.blocks] == ["piece", "title", "photo"]
    assert (window.page.blocks[1].text, window.page.background) == ("Two panes", window.shelf.papers[1].id)
    assert window.ticked == (2,)


def test_a_link_made_when_the_check_kept_a_mat_of_its_own_has_the_mat_that_was_cut_on() -> None:
    project = from_link((KEPT / "window link on another mat.txt").read_text())
    assert (project.plan.mat_width_mm, project.plan.mat_height_mm) == (210.0, 297.0)


def test_a_kept_shelf_has_its_papers_their_pictures_keys_and_scraps() -> None:
    shelf = shelf_from_json((KEPT / "window shelf.json").read_text())
    photo = shelf.papers[0]
    assert (photo.picture, photo.picture_width_mm) == ("a3d1c0de-0000-4000-8000-000000000001", 152.4)
    assert [(scrap.width_mm, scrap.height_mm) for scrap in shelf.scraps] == [(80.0, 60.0)]
