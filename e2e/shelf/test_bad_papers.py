"""What goes wrong with papers: no room, two tabs at once, pictures that lie, sheets that are gone."""

from collections.abc import Callable

from playwright.sync_api import expect

from e2e.made_papers import sheet_to_print
from e2e.panels import window_svg
from e2e.shelf.test_cut import told_of
from e2e.shelf.test_papers import at_papers, button, sheets, stocked
from e2e.shelf.test_stash import new_paper, open_stash
from e2e.table import Table

Visit = Callable[[str], Table]
BOOKED = "its sheets and scraps have left My papers"
EIGHT_INCHES = "1"
"""Its place among the usual sizes."""
PICTURES_FULL = """() => {
    const put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = function (...what) {
        if (this.name === "pictures") throw new DOMException("no room", "QuotaExceededError");
        return put.apply(this, what);
    };
}"""


def give_first(table: Table, paper: str) -> None:
    """Give a paper to the first opening."""
    table.go("Papers")
    table.pick(paper)
    table.page.get_by_role("listbox", name="Openings of the design").focus()
    table.page.keyboard.press("Home")
    table.page.keyboard.press("Enter")
    expect(table.page.locator("#opening-1")).to_contain_text(paper)


def cut(table: Table) -> None:
    """Book what the plan takes."""
    table.go("Glue-up")
    expect(button(table, "I have cut this")).to_be_enabled()
    table.press(button(table, "I have cut this"))
    table.press(table.page.locator("dialog[open]").get_by_role("button", name="Yes, it is cut"))


def test_no_room_a_picture_that_lies_two_tabs_and_a_paper_that_is_gone_are_told_and_lose_nothing(
    revisit: Visit,
) -> None:
    table = at_papers(revisit("tablet"))
    page = table.page
    new_paper(table, "Samphire", "#3f9a4c", "Marsh", "2")
    new_paper(table, "Dulse", "#7a2a3c", "Marsh", "0")
    count = stocked(table)
    page.evaluate(PICTURES_FULL)
    # A sheet of half an inch, by what its file says.
    lying = sheet_to_print(900, 1800)
    page.locator(".shelf-more input[accept*=zip][multiple]").set_input_files(
        [
            {"name": "kelp.png", "mimeType": "image/png", "buffer": sheet_to_print(1800)},
            {"name": "lying.png", "mimeType": "image/png", "buffer": lying},
        ]
    )
    page.get_by_label("Size of a sheet").select_option(label="8 × 8 in")
    table.press(button(table, "Put them on the shelf"))
    expect(sheets(table)).to_have_count(count + 2)
    told = page.locator(".notice", has_text="2 papers are on the shelf now.")
    expect(told).to_contain_text("the pictures of 2 papers are gone once you close the page")
    table.picture("no-room")
    table.press(page.locator(".sheet", has_text="lying"))
    table.press(button(table, "Change this paper"))
    asked = page.locator("dialog[open]")
    expect(asked.get_by_label("Sheet", exact=True)).to_have_value(EIGHT_INCHES)
    table.press(asked.get_by_role("button", name="Cancel"))

    give_first(table, "Samphire")
    table.go("Mats")
    table.settle_for_first_plan()
    other = table.context.new_page()
    other.goto(table.address)
    table.page = other
    table.wait_until_ready()
    table.drop("second.svg", window_svg())
    expect(other.get_by_role("heading", level=1)).to_contain_text("second")
    expect(table.openings).to_have_count(6)
    give_first(table, "Samphire")
    cut(table)
    expect(other.get_by_text(BOOKED)).to_be_visible()
    table.page = page
    page.bring_to_front()
    cut(table)
    expect(page.get_by_text(BOOKED)).to_be_visible()
    at_papers(table)
    stash = open_stash(table)
    expect(told_of(table, stash, "Samphire"), "one sheet by each tab").to_contain_text("0 sheets")
    table.press(stash.get_by_role("button", name="Close"))

    # The next project wants what is used up: it is given all the same, and the mats say what is missing.
    table.drop("third.svg", window_svg())
    expect(page.get_by_role("heading", level=1)).to_contain_text("third")
    expect(table.openings).to_have_count(6)
    at_papers(table)
    stash = open_stash(table)
    table.press(stash.locator("[data-paper]", has_text="Dulse").get_by_role("button"))
    table.press(stash.get_by_role("button", name="Put on the shelf"))
    give_first(table, "Dulse")
    table.go("Mats")
    table.settle_for_first_plan()
    expect(page.locator(".trouble", has_text="Dulse")).to_contain_text("and you have 0")
    table.press(button(table, "What to buy"))
    bought = page.get_by_role("dialog", name="What to buy")
    expect(bought.locator(".reorder li", has_text="Dulse")).to_contain_text("Buy 1")
    table.picture("buy-what-is-gone")
    table.press(bought.get_by_role("button", name="Close"))

    # On a borrowed computer all papers are forgotten, on being asked apart; the project keeps those it uses.
    at_papers(table)
    stash = open_stash(table)
    table.press(stash.get_by_text("Save, add, forget"))
    table.press(stash.get_by_role("button", name="Forget my papers here"))
    expect(stash).to_contain_text("Projects keep those that they use.")
    expect(stash.locator("[data-paper]").first).to_be_visible()
    table.press(stash.get_by_role("button", name="Forget them"))
    expect(stash.locator("[data-paper]")).to_have_count(0)
    table.press(stash.get_by_role("button", name="Close"))
    expect(page.locator("#opening-1")).to_contain_text("Dulse")
