"""The controls of the backing at the design's place, on the demo."""

import re
from collections.abc import Callable

from playwright.sync_api import expect

from e2e.panels import HOLE_MM, window_svg
from e2e.table import Table

Visit = Callable[[str], Table]


def test_whole_back_punches_and_shared_pieces_are_chosen_in_the_page(visit: Visit) -> None:
    table = visit("laptop")
    table.wait_until_ready()
    page = table.page
    table.unfold("Lip for the glue")
    figure = page.locator(".figures div", has_text="Smallest width for all lips").locator("dd")
    expect(figure).to_contain_text(" in")
    page.get_by_role("button", name="Lips too narrow for glue").click()
    expect(page.get_by_text("less than the least lip of 1/32 in")).to_be_visible()
    wider = page.get_by_role("button", name=f"Set the width to {figure.inner_text()}", exact=True)
    expect(wider).to_be_visible()
    table.unfold("One sheet behind it all")
    page.get_by_role("switch", name="Back it all with one sheet").click()
    expect(page.get_by_label("Edge margin of the whole-back")).to_be_visible()
    table.unfold("Backing pieces")
    page.get_by_text("My punches").click()
    taken_off = page.get_by_role("button", name="Take off: square 1/2 in")
    taken_off.click()
    expect(taken_off).to_have_count(0)
    expect(page.locator(".offers button:focus")).to_have_accessible_name(re.compile("Take off: "))
    page.get_by_label("Form", exact=True).select_option("rectangle")
    page.get_by_label("Other side").fill("1 1/4 in")
    page.get_by_label("Other side").press("Enter")
    page.get_by_role("button", name="Add punch").click()
    expect(page.get_by_role("button", name="Take off: rectangle 1 × 1 1/4 in")).to_be_visible()
    table.press(page.locator("#menu-button"))
    table.press(page.locator("dialog[open]").get_by_text("Millimetres", exact=True))
    page.keyboard.press("Escape")
    expect(page.get_by_role("button", name="Take off: rectangle 25.4 × 31.8 mm")).to_be_visible()
    page.get_by_role("switch", name="Join or part pieces by tapping").click()
    page.get_by_role("listbox", name="Openings of the design").focus()
    for key in ("ArrowRight", "Enter", "ArrowRight", "Enter"):
        page.keyboard.press(key)
    expect(page.get_by_text("to share a piece.")).to_be_visible()
    for key in ("Enter", "ArrowLeft", "Enter"):
        page.keyboard.press(key)
    expect(page.get_by_text("get pieces of their own.")).to_be_visible()
    assert table.complaints == []


def test_a_piece_that_no_trim_holds_is_told_in_the_persons_unit_with_the_width_that_fits(
    revisit: Visit,
) -> None:
    table = revisit("laptop")
    page = table.page
    table.drop("pane.svg", window_svg([(80, 50)]))
    expect(page.locator("#menu-button")).to_contain_text("pane")
    expect(table.openings).to_have_count(1)
    table.go("Papers")
    table.press(page.locator(".sheet").nth(1))
    page.get_by_role("listbox", name="Openings of the design").focus()
    page.keyboard.press("Enter")
    table.go("Design")
    table.unfold("The design")
    width = page.get_by_label("Width", exact=True)
    for _ in range(4):
        width.press("ArrowUp")
        table.wait_for_frames()
    # 100 mm and four steps of a quarter inch, from the next whole one.
    expect(width).to_have_value("5 in")
    width.fill("wide")
    table.unfold("Finer settings")
    page.get_by_role("switch", name="Show how strong").press("Space")
    table.wait_for_frames()
    expect(page.get_by_text("“wide” is no length")).to_be_visible()
    width.fill("20 in")
    width.press("Enter")
    table.go("Mats")
    trouble = page.locator(".trouble", has_text="needs a trim of")
    expect(trouble).to_contain_text("12 in by 12 in: make the design")
    wanted = re.search(r"make the design (.+ in) wide at most", trouble.inner_text())
    assert wanted is not None
    table.press(page.locator("#menu-button"))
    table.press(page.locator("dialog[open]").get_by_text("Millimetres", exact=True))
    page.keyboard.press("Escape")
    expect(trouble).to_contain_text("304.8 mm by 304.8 mm: make the design")
    table.go("Design")
    expect(width).to_have_value("508 mm")
    width.fill(wanted[1])
    width.press("Enter")
    table.go("Mats")
    expect(page.locator(".trim-row").first).to_be_visible()
    expect(trouble).to_have_count(0)


def test_pieces_that_have_no_room_for_glue_are_named_where_they_are_laid_out_and_taken(
    revisit: Visit,
) -> None:
    table = revisit("tablet")
    page = table.page
    # Bars of 0.3 mm in the rows, less than the gap between two pieces, and of 3 mm between the rows.
    table.drop("tight.svg", window_svg([(29.7, 27), (29.7, 27), (HOLE_MM, 27)] * 2))
    expect(page.locator("#menu-button")).to_contain_text("tight")
    expect(page.get_by_role("button", name="Thin bars")).to_be_visible()
    table.go("Papers")
    table.press(page.locator(".sheet").nth(1))
    table.press(page.get_by_title("all alike", exact=True))
    page.get_by_role("listbox", name="Openings of the design").focus()
    for key in ("Home", "Enter", "End", "Enter"):
        page.keyboard.press(key)
    for number in range(1, 7):
        expect(table.opening(number)).not_to_contain_text("left open")
    table.go("Mats")
    said = page.get_by_text("6 pieces have no room for glue at some edges")
    expect(said).to_be_visible()
    table.picture("narrow-lips-mats")
    table.go("Glue-up")
    expect(said.last).to_be_visible()
    table.picture("narrow-lips-take")
    table.press(page.get_by_role("button", name="Show where").last)
    expect(page.get_by_role("button", name="Lips too narrow for glue", expanded=True)).to_be_visible()
    table.wait_for_frames()
    table.picture("narrow-lips-design")
    table.press(page.get_by_role("button", name="Design", exact=True))
    expect(page.get_by_text("1 piece would do instead of 6")).to_be_visible()
    table.picture("fewer-pieces")
    table.press(page.get_by_role("button", name="Share pieces"))
    expect(page.get_by_text("1 piece would do instead of 6")).to_be_hidden()
    expect(page.get_by_text("6 pieces have no room for glue")).to_have_count(0)
    table.go("Glue-up")
    table.picture("one-piece-glue-up")
