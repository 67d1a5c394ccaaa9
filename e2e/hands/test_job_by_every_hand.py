"""The main job, from a file to a zip, by a screen reader, by keys alone, and by a finger that trembles."""

import zipfile
from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import expect

from e2e.hands.hands import ACTS, LANDMARKS, Hand, Keys, Reader, Trembling
from e2e.hands.test_hands import spot
from e2e.panels import window_svg
from e2e.table import Table

Visit = Callable[[str], Table]
LONG_PRESS_MS = 700


def do_the_job(table: Table, hand: Hand, design: Path, heard: Callable[[], None]) -> None:
    """Open a design, give two openings a paper, lay out the mats, and take all sheets."""
    page = table.page
    with page.expect_file_chooser() as chooser:
        hand.press("button", "Open a file")
    chooser.value.set_files(design)
    expect(page).to_have_title(f"{design.stem} · Peekpaper")
    hand.press("button", "Design")
    expect(page.locator(".stage-behind")).to_be_empty()
    expect(page.get_by_text("Nothing to worry about")).to_be_visible()
    expect(table.openings).to_have_count(6)
    heard()
    hand.press("button", "Papers")
    hand.press("button", "2. ")
    for number in (2, 6):
        hand.give(number)
        expect(table.opening(number)).not_to_contain_text("left open")
        expect(page.locator("#announcer")).to_have_text(table.opening(number).inner_text())
    expect(page.get_by_role("option", name="left open")).to_have_count(4)
    heard()
    hand.press("button", "Mats")
    # Where a better plan comes, things move: a finger may meet another one.
    table.settle_for_first_plan()
    heard()
    hand.press("button", "Glue-up")
    expect(page.get_by_role("button", name="Take the sheets")).to_be_enabled()
    hand.press("button", "Take the sheets")
    with page.expect_download() as saved:
        hand.press("link", design.stem)
    assert any(name.endswith(".svg") for name in zipfile.ZipFile(saved.value.path()).namelist())
    heard()


def test_a_screen_reader_keys_and_a_trembling_finger_each_do_the_whole_job(
    revisit: Visit, tmp_path: Path
) -> None:
    table = revisit("tablet")
    table.wait_until_ready()
    reader, finger = Reader(table), Trembling(table)

    def nothing_nameless() -> None:
        read = reader.heard()
        assert [each for each in read if each.role in ACTS and not each.name.strip()] == []
        assert {each.role for each in read} >= {*LANDMARKS, "heading"}

    hands: dict[str, Hand] = {"heard": reader, "keyed": Keys(table), "touched": finger}
    for name, hand in hands.items():
        design = tmp_path / f"{name}.svg"
        design.write_text(window_svg())
        do_the_job(table, hand, design, nothing_nameless)
    table.go("Papers")
    finger.hold(*spot(table, 3), LONG_PRESS_MS)
    expect(table.page.locator(".detail")).to_contain_text("Opening 3")
    expect(table.opening(3)).to_contain_text("left open")
