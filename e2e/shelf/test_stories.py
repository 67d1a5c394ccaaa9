"""Colour stories: palettes from a paper or a photo, and suggestions from chosen papers alone."""

import csv
import io
from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import expect

from e2e.made_papers import grid_svg, photo_of_paper
from e2e.shelf.test_papers import at_papers, button, part
from e2e.table import Table

Visit = Callable[[str], Table]


def given(table: Table) -> set[str]:
    """Return the names of the papers that openings have."""
    names = table.page.locator("#part-suggest .by-paper li > span")
    expect(names.first).to_be_visible()
    return set(names.all_inner_texts())


def test_suggestions_keep_to_a_colour_story_or_to_chosen_papers(revisit: Visit) -> None:
    table = at_papers(revisit("tablet"))
    page = table.page
    table.lay_anew("rings", grid_svg(7, 7))
    at_papers(table)
    table.press(page.locator(".sheet", has_text="Brick"))
    part(table, "Suggest")
    table.picture("stories-none")
    table.press(button(table, "From Brick"))
    ramp = page.get_by_role("group", name="Light to dark")
    expect(page.get_by_role("group", name="Opposites")).to_contain_text("Brick")
    expect(page.get_by_role("group", name="More like this")).to_contain_text("Brick")
    expect(ramp).to_contain_text("Brick")
    ramp.scroll_into_view_if_needed()
    table.picture("stories")
    told = set(ramp.locator("small").all_inner_texts())
    table.press(ramp.get_by_role("button", name="Suggest only from these"))
    expect(page.get_by_role("radio", name="only these")).to_be_checked()
    expect(page.get_by_role("radio", name="from the middle outwards")).to_be_checked()
    assert given(table) <= told
    table.picture("stories-ramp")

    # Chosen by hand: one more, and mixed again.
    table.press(page.get_by_role("radio", name="mixed").locator("xpath=.."))
    table.press(page.locator(".among-paper[aria-label='Sky']"))
    table.press(page.locator("#part-suggest .button-main"))
    expect(page.locator(".by-paper")).to_contain_text("Sky")
    assert given(table) <= {*told, "Sky"}

    # From a photo: what is found there is what is suggested from.
    page.locator("#part-suggest input[type=file]").set_input_files(
        {"name": "room.jpg", "mimeType": "image/jpeg", "buffer": photo_of_paper()}
    )
    photo = page.get_by_role("group", name="As in the photo")
    expect(photo.locator(".fits button").nth(2)).to_be_visible()
    reasons = " ".join(photo.locator(".fits button").all_inner_texts())
    table.press(photo.get_by_role("button", name="Suggest only from these"))
    expect(page.locator(".by-paper")).not_to_contain_text("Sky")
    assert all(name in reasons for name in given(table))
    table.picture("stories-photo")

    # What these take is listed to be bought, and saved as a table.
    names = given(table)
    table.go("Mats")
    table.settle_for_first_plan()
    table.press(button(table, "What to buy"))
    dialog = page.get_by_role("dialog", name="What to buy")
    expect(dialog.locator(".reorder li")).to_have_count(len(names))
    expect(dialog.get_by_role("status")).to_contain_text("to buy")
    for name in names:
        expect(dialog.locator(".reorder li", has_text=name)).to_contain_text("needed for rings")
    table.picture("reorder")
    table.press(dialog.get_by_role("radio", name="all projects not cut yet").locator("xpath=.."))
    expect(dialog.locator(".reorder li", has_text="needed for rings")).to_have_count(len(names))
    with page.expect_download() as saving:
        table.press(dialog.get_by_role("button", name="Save as a table"))
    rows = list(csv.reader(io.StringIO(Path(saving.value.path()).read_text("utf-8-sig"))))
    assert {row[0] for row in rows[1:]} >= names
    table.press(dialog.get_by_role("button", name="Close"))

    # Another project has other papers: its suggestions take all of them.
    table.lay_anew("again", grid_svg(3, 3))
    at_papers(table)
    part(table, "Suggest")
    expect(page.get_by_role("radio", name="the whole shelf")).to_be_checked()
    expect(page.get_by_role("radio", name="mixed")).to_be_checked()
