"""Left-overs of any shape: from a photo to an outline that pieces are laid into."""

import re
from collections.abc import Callable

from playwright.sync_api import expect

from e2e.made_papers import photo_of_paper, photo_of_scrap
from e2e.shelf.test_papers import at_papers, button, spot
from e2e.table import Table

Visit = Callable[[str], Table]
SEEN = re.compile(r"150 × (119\.\d|120) mm")


def test_a_scrap_of_any_shape_comes_from_a_photo_and_pieces_are_laid_into_it(revisit: Visit) -> None:
    table = at_papers(revisit("tablet"))
    page = table.page
    table.measure_in("Millimetres")
    at_papers(table)
    table.press(page.locator(".sheets .sheet").first)
    table.tap_at(*spot(table, 1))
    table.press(button(table, "Change this paper"))
    table.press(page.locator("dialog[open] summary", has_text="Scraps of it"))
    page.locator("dialog[open] input[type=file]").last.set_input_files(
        {"name": "left over.jpg", "mimeType": "image/jpeg", "buffer": photo_of_scrap()}
    )
    dialog = page.get_by_role("dialog", name="A scrap from a photo")
    told = dialog.get_by_role("status")
    expect(told).to_contain_text(SEEN)
    table.picture("scrap-photo")
    # A card's corners are not points of the outline.
    expect(button(table, "Take this point out")).to_be_hidden()

    # A point of the outline is moved by keys, and taken out.
    handle = dialog.locator(".corner")
    handle.focus()
    for _ in range(4):
        page.keyboard.press("PageDown")
    for _ in range(3):
        page.keyboard.press("Shift+ArrowUp")
    expect(told).not_to_contain_text(SEEN)
    for _ in range(3):
        page.keyboard.press("Shift+ArrowDown")
    expect(told).to_contain_text(SEEN)
    expect(button(table, "Take this point out")).to_be_visible()
    table.press(dialog.get_by_role("button", name="Use this scrap"))
    expect(page.locator(".scraps li")).to_contain_text("of its own shape")
    table.picture("scrap-listed")
    table.press(button(table, "Keep the changes"))
    table.go("Mats")
    table.settle_for_first_plan()
    expect(page.locator(".trim-row").get_by_text("from a scrap")).to_be_visible()
    table.picture("scrap-on-mat")


def test_of_a_photo_without_a_card_no_size_is_made_up(revisit: Visit) -> None:
    table = at_papers(revisit("phone"))
    page = table.page
    table.press(page.locator(".sheets .sheet").first)
    table.press(button(table, "Change this paper"))
    table.press(page.locator("dialog[open] summary", has_text="Scraps of it"))
    page.locator("dialog[open] input[type=file]").last.set_input_files(
        {"name": "paper.jpg", "mimeType": "image/jpeg", "buffer": photo_of_paper()}
    )
    dialog = page.get_by_role("dialog", name="A scrap from a photo")
    expect(dialog).to_contain_text("Only one thing stands out in this photo.")
    use = dialog.get_by_role("button", name="Use this scrap")
    expect(use).to_be_disabled()
    table.picture("scrap-without-card")
    # The corners dragged onto what is known tell the size after all.
    dialog.locator(".corner").focus()
    page.keyboard.press("Shift+ArrowLeft")
    expect(dialog.get_by_role("status")).to_contain_text("The scrap measures")
    expect(use).to_be_enabled()
