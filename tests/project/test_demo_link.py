"""The demo's link."""

from peekpaper.demo.harbour import demo_project
from peekpaper.project.link import from_link, to_link


def test_the_demo_fits_a_link_of_under_8000_characters() -> None:
    project = demo_project()
    link = to_link(project)
    assert len(link) < 8000
    assert from_link(link) == project
