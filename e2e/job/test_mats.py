"""The mats by hand: what is dragged stays where it was put, the rest is laid around it."""

import re
from collections.abc import Callable

from playwright.sync_api import expect

from e2e.table import Table

Visit = Callable[[str], Table]
CARD = ".held-words small"


def planned(table: Table) -> Table:
    """Back all openings of the tests' own design with one paper and wait for the mats."""
    table.go("Papers")
    table.press(table.page.locator(".sheet").nth(1))
    table.press(table.page.get_by_title("all alike", exact=True))
    table.page.get_by_role("listbox", name="Openings of the design").focus()
    table.page.keyboard.press("Enter")
    table.go("Mats")
    table.settle_for_first_plan()
    return table


def trims(table: Table) -> list[str]:
    """Return the trims as the list beside the mat tells them."""
    return table.page.locator(".trim-row").all_inner_texts()


def test_the_keyboard_moves_a_trim_along_the_grid_and_a_reload_lays_it_there_again(revisit: Visit) -> None:
    table = revisit("laptop")
    table.come_again_with_cores(2)
    planned(table)
    assert len(table.page.workers) == 2, "a packer for its one paper, beside the worker that answers all else"
    table.picture("mats-first")
    table.press(table.page.locator(".trim-row").first)
    expect(table.page.locator(CARD)).to_have_text("mat 1: 0 in from the left, 0 in down")
    table.page.keyboard.press("ArrowRight")
    # The first step is put down by now; its plan may come while the next steps are made.
    table.page.wait_for_timeout(500)
    for key in ("ArrowRight", "ArrowDown"):
        table.page.keyboard.press(key)
    expect(table.page.locator(CARD)).to_have_text("mat 1: 1 in from the left, 1/2 in down")
    expect(table.page.get_by_role("button", name="Take all pins out")).to_be_visible()
    table.settle_for_first_plan()
    expect(table.page.locator(CARD)).to_have_text("mat 1: 1 in from the left, 1/2 in down")
    laid = trims(table)
    table.picture("mats-moved")
    table.page.wait_for_timeout(600)
    table.page.reload()
    table.wait_until_ready()
    table.go("Mats")
    expect(table.page.get_by_text("Done.")).to_be_visible()
    assert trims(table) == laid
    table.press(table.page.get_by_role("button", name="Take all pins out"))
    expect(table.page.locator(".trim-row").first).to_contain_text("0 in from the left, 0 in down")


def test_the_mats_never_call_nothing_the_best(revisit: Visit) -> None:
    table = revisit("phone")
    status = table.page.locator("#shelf-room [role=status]").first
    nothing = "Give papers to some openings first, then the mats fill by themselves."
    table.go("Mats")
    expect(status).to_have_text(nothing)
    table.picture("mats-of-nothing")
    planned(table)
    table.press(table.page.get_by_role("button", name="Undo"))
    expect(status).to_have_text(nothing)
    expect(table.page.locator(".trim-row")).to_have_count(0)


def drag(table: Table, across: float, down: float) -> None:
    """Drag what is in hand by px."""
    left, top, width, height = table.box(table.page.locator(".held-line"))
    x, y = left + width / 2, top + height / 2
    table.page.mouse.move(x, y)
    table.page.mouse.down()
    table.page.mouse.move(x + across, y + down, steps=6)
    table.page.mouse.up()


def test_a_hand_drags_a_trim_and_turns_a_piece(revisit: Visit) -> None:
    table = planned(revisit("laptop"))
    page = table.page
    table.press(page.locator(".trim-row").first)
    left, top, _, _ = table.box(page.locator(".held-line"))
    x, y = left + 6, top + 6
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 130, y + 90, steps=6)
    expect(page.locator(".held-paper")).to_be_visible()
    table.picture("mats-carried")
    page.mouse.up()
    expect(page.locator(CARD)).not_to_have_text("mat 1: 0 in from the left, 0 in down")
    expect(page.get_by_role("button", name="Take all pins out")).to_be_visible()
    table.press(page.get_by_role("button", name="Take all pins out"))
    expect(page.locator(".trim-row").first).to_contain_text("0 in from the left, 0 in down")
    table.settle_for_first_plan()
    note = page.locator(".spot-note")
    drag(table, 900, 0)
    expect(note).to_have_text("Trims lie on the part of the mat that sticks.")
    expect(page.locator(CARD)).not_to_have_text("mat 1: 0 in from the left, 0 in down")
    table.press(page.get_by_role("button", name="Take all pins out"))
    expect(note).to_be_empty()
    table.settle_for_first_plan()
    table.press(page.locator(".piece-chip").first)
    table.picture("mats-piece")
    drag(table, 0, 600)
    expect(note).to_contain_text(
        re.compile(r"Piece \d+ is cut from this trim: it keeps 1/8 in from the edge")
    )
    table.picture("mats-why")
    expect(page.locator(".held-paper")).to_be_hidden()
    table.press(page.get_by_role("button", name="Turn right"))
    expect(page.locator(".piece-chip .icon")).to_have_count(1)
    expect(page.get_by_role("button", name="Take the pin out")).to_be_visible()


def test_a_timed_cut_sets_the_time_at_once(revisit: Visit) -> None:
    table = planned(revisit("tablet"))
    table.press(table.page.get_by_role("button", name="Time one cut yourself"))
    table.page.get_by_label("Minutes").fill("42")
    table.press(table.page.get_by_role("button", name="Use this time"))
    expect(table.page.locator(".figures")).to_contain_text(re.compile("42 minutes"))
    table.picture("mats-timed")
    table.measure_in("Millimetres")
    expect(table.page.locator(".figures")).to_contain_text("cm²")
    table.go("Design")
    table.unfold("Finer settings")
    table.unfold("Lip for the glue")
    table.press(table.page.get_by_text("Show how strong the bars are"))
    table.press(table.page.get_by_text("Show the backing pieces"))
    table.picture("design-strength")
