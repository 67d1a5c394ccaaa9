"""The papers that a person has, for all projects: kept, found, sorted, changed everywhere, forgotten."""

import io
import zipfile
from collections.abc import Callable
from pathlib import Path

from PIL import Image
from playwright.sync_api import Locator, expect

from e2e.made_papers import sheet_to_print
from e2e.panels import window_svg
from e2e.shelf.test_papers import add_photo, at_papers, button, sheets, stocked
from e2e.table import Table, wait_until

Visit = Callable[[str], Table]
KEPT_PAPERS = """async (count) => {
    const opening = indexedDB.open("peekpaper");
    await new Promise((done) => { opening.onsuccess = done; });
    const asked = opening.result.transaction("projects").objectStore("projects").getAll();
    await new Promise((done) => { asked.onsuccess = done; });
    opening.result.close();
    return asked.result.some(({ course }) => course.document.shelf.papers.length === count);
}"""
FORGET_STASH = """async () => {
    const opening = indexedDB.open("peekpaper");
    await new Promise((done) => { opening.onsuccess = done; });
    const transaction = opening.result.transaction("stash", "readwrite");
    transaction.objectStore("stash").clear();
    await new Promise((done) => { transaction.oncomplete = done; });
    opening.result.close();
}"""


def new_paper(table: Table, name: str, colour: str, collection: str, sheets_left: str = "") -> None:
    """Put a new paper on the shelf."""
    page = table.page
    table.unfold("More papers")
    table.press(button(table, "New paper"))
    page.get_by_label("Name", exact=True).fill(name)
    page.get_by_label("Colour", exact=True).fill(colour)
    page.get_by_label("Collection").fill(collection)
    page.get_by_label("Sheets at hand").fill(sheets_left)
    table.press(button(table, "Put on the shelf"))
    expect(sheets(table).last).to_contain_text(name)


def open_stash(table: Table) -> Locator:
    """Open the papers for all projects."""
    table.unfold("More papers")
    table.press(button(table, "My papers"))
    stash = table.page.locator("dialog[open]")
    expect(stash).to_be_visible()
    return stash


def names(stash: Locator) -> list[str]:
    """The names of the papers that are shown, in their order."""
    return stash.locator(".stash-sheets .sheet-name").all_text_contents()


def shown(stash: Locator, *wanted: str) -> None:
    expect(stash.locator(".stash-sheets .sheet-name")).to_have_text(list(wanted))


def test_papers_of_one_project_are_there_for_the_next_and_change_in_both(
    revisit: Visit, tmp_path: Path
) -> None:
    table = at_papers(revisit("tablet"))
    page = table.page
    count = stocked(table)
    add_photo(table, "pebbles.png", sheet_to_print(600, 300))
    table.press(button(table, "Use this paper"))
    new_paper(table, "Gull grey", "#8a8d91", "Harbour", "0")
    new_paper(table, "Night tide", "#101830", "Harbour")
    new_paper(table, "Samphire", "#3f9a4c", "Marsh")
    expect(sheets(table)).to_have_count(count + 4)

    stash = open_stash(table)
    shown(stash, "pebbles", "Gull grey", "Night tide", "Samphire")
    expect(stash.get_by_text("used up", exact=False).first).to_be_visible()
    table.press(stash.get_by_text("light to dark"))
    assert names(stash)[-1] == "Night tide"
    table.press(stash.get_by_text("by colour"))
    assert names(stash) == ["pebbles", "Samphire", "Night tide", "Gull grey"]
    table.picture("stash")
    stash.get_by_label("Collection").select_option(label="Harbour")
    shown(stash, "Night tide", "Gull grey")
    table.press(stash.get_by_text("Hide what is used up"))
    shown(stash, "Night tide")
    stash.get_by_label("Collection").select_option(label="all")
    stash.get_by_label("Find").fill("marsh")
    shown(stash, "Samphire")
    table.press(stash.get_by_role("button", name="Close"))

    # As if the page that kept this project had known of no stash.
    wait_until(page, KEPT_PAPERS, count + 4)
    page.evaluate(FORGET_STASH)
    page.reload()
    table.wait_until_ready()
    at_papers(table)
    stash = open_stash(table)
    expect(stash.locator(".stash-sheets .sheet-name")).to_have_count(4)
    shown(stash, "pebbles", "Gull grey", "Night tide", "Samphire")
    table.press(stash.get_by_role("button", name="Close"))

    table.drop("other.svg", window_svg())
    expect(page.locator("#project-name")).to_have_text("other")
    table.go("Papers")
    expect(sheets(table)).to_have_count(3)
    expect(sheets(table).first).to_contain_text("pebbles")
    table.pick("Samphire")
    table.press(button(table, "Change this paper"))
    page.get_by_label("Name", exact=True).fill("Glasswort")
    table.press(button(table, "Keep the changes"))
    expect(sheets(table).last).to_contain_text("Glasswort")

    table.press(page.locator("#menu-button"))
    table.press(page.locator("dialog[open] .kept .tile", has_text="window"))
    expect(sheets(table)).to_have_count(count + 4)
    expect(sheets(table).last, "it changed in the stash meanwhile").to_contain_text("Glasswort")

    table.press(sheets(table).last.get_by_role("button"))
    table.press(button(table, "Take off the shelf"))
    expect(sheets(table)).to_have_count(count + 3)
    stash = open_stash(table)
    table.press(stash.locator(".sheet", has_text="Glasswort"))
    table.press(stash.get_by_role("button", name="Put on the shelf"))
    expect(sheets(table)).to_have_count(count + 4)

    stash = open_stash(table)
    table.press(stash.locator(".sheet", has_text="pebbles"))
    table.press(stash.get_by_role("button", name="Take out"))
    shown(stash, "Gull grey", "Night tide", "Glasswort")
    table.press(stash.get_by_text("Save, add, forget"))
    with page.expect_download() as waiting:
        table.press(stash.get_by_role("button", name="Save my papers"))
    saved = tmp_path / waiting.value.suggested_filename
    waiting.value.save_as(saved)
    table.press(stash.get_by_role("button", name="Forget my papers here"))
    table.press(stash.get_by_role("button", name="Forget them"))
    shown(stash)
    expect(stash.get_by_text("Nothing is here yet.")).to_be_visible()
    table.picture("empty-stash")
    stash.locator("input[type=file]").set_input_files(saved)
    shown(stash, "Gull grey", "Night tide", "Glasswort")
    table.press(stash.get_by_role("button", name="Close"))
    expect(sheets(table), "the project keeps its own").to_have_count(count + 4)


def sheet(colour: tuple[int, int, int], per_inch: int | None = 300) -> bytes:
    """Return a JPEG of 600 x 600 px."""
    file = io.BytesIO()
    Image.new("RGB", (600, 600), colour).save(
        file, "JPEG", **({"dpi": (per_inch, per_inch)} if per_inch else {})
    )
    return file.getvalue()


def test_a_whole_collection_comes_at_once_from_pictures_and_a_zip(revisit: Visit) -> None:
    table = at_papers(revisit("tablet"))
    page = table.page
    count = stocked(table)
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("sheets/sand_dune.jpg", sheet((230, 200, 150)))
        archive.writestr("sheets/deep-sea.jpg", sheet((20, 60, 110), None))
        archive.writestr("sheets/sandy copy.jpg", sheet((230, 200, 150)))
        archive.writestr("read me.txt", "hello")
    table.unfold("More papers")
    page.locator(".shelf-more input[accept*=zip][multiple]").set_input_files(
        [
            {"name": "Beach walk.zip", "mimeType": "application/zip", "buffer": packed.getvalue()},
            {"name": "kelp.jpg", "mimeType": "image/jpeg", "buffer": sheet((40, 110, 60))},
            {"name": "torn.jpg", "mimeType": "image/jpeg", "buffer": sheet((1, 2, 3))[:200]},
        ]
    )
    expect(page.get_by_label("Collection")).to_have_value("Beach walk")
    page.get_by_label("Size of a sheet").select_option(label="6 × 6 in")
    table.picture("collection")
    table.press(button(table, "Put them on the shelf"))
    expect(sheets(table)).to_have_count(count + 3)
    told = page.locator(".notice", has_text="3 papers are on the shelf now.")
    expect(told).to_contain_text("1 was there already. 1 file is no picture that can be read here.")
    stash = open_stash(table)
    shown(stash, "deep sea", "sand dune", "kelp")
