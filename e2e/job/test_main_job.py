"""The main job on the built site, as a newcomer does it: a file in, papers given, sheets out."""

from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree

import pytest
from playwright.sync_api import Download, expect
from svg.path import parse_path

from e2e.drawn import card_is_drawn
from e2e.panels import CARD_COLOUR, HEIGHT_MM, HOLE_MM, WIDTH_MM, middle, window_svg
from e2e.table import Screen, Table
from peekpaper.lengths import parse_length

Visit = Callable[[str], Table]
TRUE_SIZE_MM = 0.02


def test_a_newcomer_sees_the_page_at_once_and_finds_the_demo_backed_with_papers(
    visit: Visit, screen: Screen
) -> None:
    table = visit(screen.name)
    expect(table.page.get_by_role("navigation")).to_be_visible()
    expect(table.page.locator("#menu-button")).to_be_enabled()
    table.wait_until_ready()
    heard = table.openings.all_text_contents()
    assert len(heard) >= 60
    assert sum("left open" not in sentence for sentence in heard) >= 60
    table.picture("demo")


def tap_opening(table: Table, number: int) -> None:
    """Tap an opening where it is seen."""
    left, top, right, bottom = table.card_box(CARD_COLOUR)
    x, y = middle(number)
    table.tap_at(left + (right - left) * x / WIDTH_MM, top + (bottom - top) * y / HEIGHT_MM)


def test_a_dropped_design_becomes_sheets_of_true_size(visit: Visit, screen: Screen, tmp_path: Path) -> None:
    window = visit(screen.name)
    window.wait_until_ready()
    window.drop("window.svg", window_svg())
    expect(window.openings).to_have_count(6)
    assert card_is_drawn(window)
    window.picture("design")
    window.go("Papers")
    window.press(window.page.locator(".sheet").first)
    for number in (1, 3, 5):
        tap_opening(window, number)
        expect(window.opening(number)).not_to_contain_text("left open")
    second = window.page.locator(".sheet").nth(1)
    window.press(second)
    tap_opening(window, 3)
    expect(window.opening(3)).not_to_have_text(window.opening(1).inner_text().replace("1", "3", 1))
    window.picture("papers")
    window.go("Mats")
    window.settle_for_first_plan()
    window.picture("mats")
    window.go("Glue-up")
    window.press(window.page.get_by_role("button", name="Take the sheets"))
    files = window.page.locator("a.file")
    expect(files.first).to_be_visible()
    window.picture("sheets")
    cut = read(window.take(window.page.locator("a.file", has_text="card.svg")), tmp_path)
    assert extent(cut) == pytest.approx((WIDTH_MM, HEIGHT_MM), abs=TRUE_SIZE_MM)
    mat = read(window.take(window.page.locator("a.file", has_text="mat 1.svg")), tmp_path)
    sizes = [size for path in mat.iter() if path.tag.endswith("path") for size in [path_extent(mat, path)]]
    pieces = [size for size in sizes if min(size) > HOLE_MM and max(size) < HOLE_MM + 2 * 3.2]
    assert len(pieces) == 3


def test_what_was_given_is_taken_back_by_undo_and_comes_back_after_a_reload(
    revisit: Visit, screen: Screen
) -> None:
    window = revisit(screen.name)
    window.go("Papers")
    tap_opening(window, 2)
    expect(window.opening(2)).not_to_contain_text("left open")
    window.press(window.page.get_by_role("button", name="Undo"))
    expect(window.opening(2)).to_contain_text("left open")
    window.press(window.page.get_by_role("button", name="Redo"))
    expect(window.opening(2)).not_to_contain_text("left open")
    given = window.opening(2).inner_text()
    window.page.reload()
    expect(window.page.locator("[id^=opening-]")).to_have_count(6)
    expect(window.opening(2)).to_have_text(given)
    window.press(window.page.get_by_role("button", name="Undo"))
    expect(window.opening(2)).to_contain_text("left open")


def read(download: Download, folder: Path) -> ElementTree.Element:
    """Return the root of a saved SVG."""
    path = folder / download.suggested_filename
    download.save_as(path)
    return ElementTree.parse(path).getroot()


def mm_per_unit(root: ElementTree.Element) -> float:
    """Return the size of a user unit by the SVG standard: width over the viewBox's width."""
    _, _, units, _ = map(float, root.attrib["viewBox"].replace(",", " ").split())
    return parse_length(root.attrib["width"]) / units


def path_extent(root: ElementTree.Element, path: ElementTree.Element) -> tuple[float, float]:
    """Return width and height of a path in mm, sampled."""
    points = [
        segment.point(step / 64)
        for segment in parse_path(path.attrib["d"])
        if segment.length() > 0
        for step in range(65)
    ]
    scale = mm_per_unit(root)
    across = [point.real for point in points]
    down = [point.imag for point in points]
    return (max(across) - min(across)) * scale, (max(down) - min(down)) * scale


def extent(root: ElementTree.Element) -> tuple[float, float]:
    """Return width and height of the largest path of an SVG in mm."""
    return max(path_extent(root, path) for path in root.iter() if path.tag.endswith("path"))
