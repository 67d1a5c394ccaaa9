"""Gluing up, taking sheets, keeping projects and sending links, on the built site."""

import io
import re
import zipfile
from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree

import pypdfium2
import pytest
from ezdxf import bbox, recover
from playwright.sync_api import expect

from e2e.job.test_main_job import TRUE_SIZE_MM, extent
from e2e.panels import HEIGHT_MM, WIDTH_MM
from e2e.table import Table

Visit = Callable[[str], Table]
PT_PER_MM = 72 / 25.4
RUSSIAN_NAME = "Окно №2"


def backed(table: Table) -> Table:
    """Back all six openings of the tests' own design and go to glue it up."""
    table.go("Papers")
    table.press(table.page.locator(".sheet").first)
    table.press(table.page.get_by_title("all alike", exact=True))
    table.page.get_by_role("listbox", name="Openings of the design").focus()
    table.page.keyboard.press("ArrowRight")
    table.page.keyboard.press("Enter")
    for number in range(1, 7):
        expect(table.opening(number)).not_to_contain_text("left open")
    table.go("Glue-up")
    return table


def glue(table: Table) -> None:
    """Turn to the gluing steps."""
    table.press(table.page.get_by_role("tab", name="Glue, step by step"))


def test_the_wanted_sheets_come_at_true_size_and_say_what_they_are_for(
    revisit: Visit, tmp_path: Path
) -> None:
    table = backed(revisit("laptop"))
    page = table.page
    page.get_by_label("Cut files (DXF)").check()
    page.get_by_text("How they are made").click()
    page.get_by_text("A4", exact=True).click()
    take = page.get_by_role("button", name="Take the sheets")
    expect(take).to_be_enabled()
    take.click()
    everything = page.locator("a.file-all")
    expect(everything).to_contain_text("everything in one zip")
    expect(page.locator("a.file", has_text="card.svg")).to_contain_text("cut the card itself")
    path = tmp_path / "sheets.zip"
    table.take(everything).save_as(path)
    with zipfile.ZipFile(path) as packed:
        files = {name.split("/", 1)[1]: packed.read(name) for name in packed.namelist()}
    assert len(files) == page.locator("a.file").count() - 1
    size = pytest.approx((WIDTH_MM, HEIGHT_MM), abs=TRUE_SIZE_MM)
    assert extent(ElementTree.fromstring(files["window card.svg"])) == size
    for release in ("R12", "R2018"):
        drawing, auditor = recover.read(io.BytesIO(files[f"window card inches {release}.dxf"]))
        assert not auditor.has_errors
        box = bbox.extents(drawing.modelspace(), fast=False).size * 25.4
        assert (box.x, box.y) == size
    pages = pypdfium2.PdfDocument(files["window templates A4.pdf"])
    assert pages[0].get_size() == pytest.approx((210 * PT_PER_MM, 297 * PT_PER_MM), abs=0.1)
    table.measure_in("Millimetres")
    expect(page.locator("a.file"), "the files tell lengths in inches").to_have_count(0)

    page.get_by_role("button", name="Undo").click()
    expect(page.locator("a.file")).to_have_count(0)
    page.locator("#menu-button").click()
    page.get_by_role("button", name="Name, versions and more of “window”").click()
    page.get_by_label("Name", exact=True).fill(RUSSIAN_NAME)
    page.get_by_role("dialog").get_by_role("button", name="Close").last.click()
    expect(page.locator("#project-name")).to_have_text(RUSSIAN_NAME)
    page.keyboard.press("Escape")
    expect(page.get_by_role("dialog")).to_have_count(0)
    expect(take).to_be_enabled()
    take.click()
    expect(everything).to_be_visible()
    table.take(page.locator("a.file", has_text="templates A4.pdf")).save_as(path)
    assert RUSSIAN_NAME in pypdfium2.PdfDocument(path)[0].get_textpage().get_text_range()


def test_gluing_goes_step_by_step_and_survives_a_reload(revisit: Visit) -> None:
    table = backed(revisit("tablet"))
    page = table.page
    glue(table)
    step = page.get_by_role("region", name="Next piece")
    done = page.get_by_role("button", name="Glued")
    expect(done).to_be_enabled()
    expect(step).to_contain_text("take whichever comes to hand")
    first = step.locator(".step-name").inner_text()
    table.press(done)
    expect(step.locator(".step-name")).not_to_have_text(first)
    expect(page.get_by_text("1 of 6 glued")).to_be_visible()
    table.press(page.get_by_role("button", name="Back one piece"))
    expect(step.locator(".step-name")).to_have_text(first)
    for glued in range(1, 4):
        table.press(done)
        expect(page.get_by_text(f"{glued} of 6 glued")).to_be_visible()
    table.picture("gluing")
    page.reload()
    expect(table.openings).to_have_count(6)
    table.go("Glue-up")
    glue(table)
    expect(page.get_by_text("3 of 6 glued")).to_be_visible()
    table.go("Papers")
    table.press(page.get_by_role("button", name="Change this paper"))
    page.get_by_role("dialog").get_by_label("Name").fill("Tide blue")
    table.press(page.get_by_role("button", name="Keep the changes"))
    expect(page.get_by_role("dialog")).to_have_count(0)
    table.go("Glue-up")
    expect(step).to_contain_text("Tide blue")
    expect(page.locator(".glue-group h3").first).to_contain_text("Tide blue")


def test_a_link_opens_as_a_copy_and_a_cut_one_leaves_what_was_open(revisit: Visit) -> None:
    table = backed(revisit("laptop"))
    page = table.page
    page.locator("#menu-button").click()
    page.get_by_role("button", name="Link for a friend").click()
    address = page.get_by_label("The link", exact=True)
    expect(address).to_have_value(re.compile("#p="))
    link = address.input_value()
    expect(page.get_by_role("img", name="QR code of the link")).to_be_visible()
    table.picture("link")
    page.get_by_role("button", name="Close").last.click()
    page.evaluate("cut => { location.hash = cut; }", link.split("#")[1][:-9])
    expect(page.get_by_text("This link is cut off")).to_be_visible()
    expect(table.openings).to_have_count(6)
    page.evaluate("whole => { location.hash = whole; }", link.split("#")[1])
    expect(page.get_by_text("This is your own copy")).to_be_visible()
    work = page.get_by_role("dialog", name="window")
    expect(work).to_contain_text("A friend made this.")
    expect(work.get_by_role("img", name="window, finished")).to_have_attribute("src", re.compile("^blob:"))
    work.get_by_role("button", name="Look at the design").click()
    expect(work).to_have_count(0)
    expect(table.openings).to_have_count(6)
    page.locator("#menu-button").click()
    expect(page.locator(".kept", has_text="window")).to_have_count(2)


def test_a_kept_project_is_renamed_doubled_and_forgotten(revisit: Visit) -> None:
    table = revisit("laptop")
    page = table.page
    page.locator("#menu-button").click()
    more = page.get_by_role("button", name="Name, versions and more of “window”")
    more.click()
    page.get_by_label("Name", exact=True).fill("Hall window")
    page.get_by_role("button", name="Make a copy").click()
    expect(page.locator("#project-name")).to_have_text("Hall window")
    copy = page.locator(".kept", has_text="Hall window, copy")
    expect(copy).to_have_count(1)
    table.picture("projects")
    copy.get_by_role("button", name="versions and more").click()
    table.picture("kept")
    page.get_by_role("button", name="Forget this project on this computer").click()
    page.get_by_role("button", name="Forget it").click()
    expect(copy).to_have_count(0)
    expect(page.locator("#project-name")).to_have_text("Hall window")


def test_loose_bits_are_glued_last_from_the_front_and_ticked_off_by_their_own_numbers(
    visit: Visit,
) -> None:
    table = visit("laptop")
    table.wait_until_ready()
    ring = "M0 0H120V80H0ZM10 10H110V70H10ZM40 25H80V55H40Z"
    table.drop(
        "target.svg",
        f'<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="80mm" viewBox="0 0 120 80">'
        f'<path fill-rule="evenodd" d="{ring}"/></svg>',
    )
    expect(table.openings).to_have_count(1)
    page = table.page
    table.go("Papers")
    table.press(page.locator(".sheet").first)
    page.get_by_role("listbox", name="Openings of the design").focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    expect(table.opening(1)).not_to_contain_text("left open")
    table.go("Glue-up")
    glue(table)
    step = page.get_by_role("region", name="Next piece")
    expect(step).to_contain_text("Piece 1")
    expect(step).to_contain_text("0 of 2 glued")
    table.press(page.get_by_role("button", name="Glued", exact=True))
    expect(step).to_contain_text("Loose bit L1")
    expect(step).to_contain_text("opening 1")
    expect(page.get_by_role("radio", name="the front")).to_be_checked()
    table.picture("loose-bit")
    table.press(page.get_by_role("button", name="Glued", exact=True))
    expect(step).to_contain_text("All glued")
    table.press(page.get_by_role("button", name="Start over"))
    expect(step).to_contain_text("0 of 2 glued")
