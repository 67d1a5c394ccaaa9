"""Left-overs of any shape: from a photo to an outline that pieces are laid into."""

from collections.abc import Callable

from playwright.sync_api import expect

from e2e.made_papers import photo_of_scrap
from e2e.shelf.test_papers import at_papers, button
from e2e.table import Table

Visit = Callable[[str], Table]


def test_a_scrap_of_any_shape_comes_from_a_photo_and_pieces_are_laid_into_it(revisit: Visit) -> None:
    table = at_papers(revisit("tablet"))
    page = table.page
    table.measure_in("Millimetres")
    at_papers(table)
    table.press(page.locator(".sheets .sheet").first)
    table.press(button(table, "Change this paper"))
    table.press(page.locator("dialog[open] summary", has_text="Scraps of it"))
    page.locator("dialog[open] input[type=file]").last.set_input_files(
        {"name": "left over.jpg", "mimeType": "image/jpeg", "buffer": photo_of_scrap()}
    )
    dialog = page.get_by_role("dialog", name="A scrap from a photo")
    told = dialog.get_by_role("status")
    expect(told).to_contain_text("150 × 120 mm")
    table.picture("scrap-photo")

    # A point of the outline is moved by keys, and taken out.
    handle = dialog.locator(".corner")
    handle.focus()
    for _ in range(4):
        page.keyboard.press("PageDown")
    for _ in range(3):
        page.keyboard.press("Shift+ArrowUp")
    expect(told).not_to_contain_text("150 × 120 mm")
    for _ in range(3):
        page.keyboard.press("Shift+ArrowDown")
    expect(told).to_contain_text("150 × 120 mm")
    table.press(dialog.get_by_role("button", name="Use this scrap"))
    expect(page.locator(".scraps li")).to_contain_text("of its own shape")
    table.picture("scrap-listed")
    table.press(button(table, "Keep the changes"))
    table.go("Mats")
    expect(page.get_by_text("from a scrap").first).to_be_visible()
    table.settle_for_first_plan()
    table.picture("scrap-on-mat")
