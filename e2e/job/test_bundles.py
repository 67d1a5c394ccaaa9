"""Many files at once: the right design opens, several are shown, and the rest is named."""

import io
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from fpdf import FPDF
from playwright.sync_api import expect

from e2e.job.test_brought import TRUE_SIZE_MM, window_dxf
from e2e.job.test_main_job import extent, read
from e2e.panels import HEIGHT_MM, HOLE_MM, WIDTH_MM, corner, window_svg
from e2e.table import Table

Visit = Callable[[str], Table]


def zipped(files: dict[str, bytes]) -> bytes:
    data = io.BytesIO()
    with zipfile.ZipFile(data, "w", zipfile.ZIP_DEFLATED) as archive:
        for path, content in files.items():
            archive.writestr(path, content)
    return data.getvalue()


def card(openings: int) -> bytes:
    return window_svg(((HOLE_MM, HOLE_MM),) * openings).encode()


def test_of_many_files_the_right_one_opens_and_the_others_can_be_kept(revisit: Visit) -> None:
    table = revisit("tablet")
    page = table.page
    # One design in many forms, as it is sold.
    forms = {
        "gull/PNG/gull.png": b"\x89PNG\r\n\x1a\n",
        "__MACOSX/._gull.svg": b"x",
        "gull/License.pdf": b"%PDF-1.4",
        "gull/DXF/gull.dxf": window_dxf(2),
        "gull/SVG/gull.svg": card(3),
        "gull/Title.ttf": bytes(9),
    }
    table.choose_files({"gull.zip": zipped(forms)})
    expect(table.openings).to_have_count(3)
    notice = page.locator(".notice", has_text="1 file was not used")
    expect(notice).to_contain_text("Title.ttf: a typeface.")
    table.press(notice.get_by_role("button", name="Close"))
    # Where the best cannot be read, the next is.
    table.drop_files({"lamp.svg": b"<svg", "lamp.dxf": window_dxf(4), "lamp.txt": b"hello"})
    expect(table.openings).to_have_count(4)
    # Several designs: a tray.
    several = {"sail 10.svg": card(5), "sail 2.svg": card(2), "sun.dxf": window_dxf(1), "broken.svg": b"<svg"}
    table.drop_files({"set.zip": zipped(several), "papers/sea.png": b"\x89PNG\r\n\x1a\n"})
    tray = page.locator("dialog.tray")
    designs = tray.locator(".tray-design")
    expect(designs).to_have_count(4)
    expect(designs.nth(3)).to_contain_text("DXF, ")
    expect(designs.nth(3)).to_be_enabled()
    expect(designs.nth(0)).to_be_disabled()
    table.picture("tray")
    table.press(designs.filter(has_text="sail 10"))
    expect(tray).to_have_count(0)
    expect(table.openings).to_have_count(5)
    expect(page.locator(".notice", has_text="2 more designs are kept")).to_be_visible()
    expect(page.locator(".notice", has_text="1 picture of a paper came along")).to_be_visible()
    table.press(page.locator("#menu-button"))
    table.press(page.locator("dialog[open]").get_by_text("sail 2", exact=True).first)
    expect(table.openings).to_have_count(2)


def test_a_folder_that_is_dropped_is_looked_into(revisit: Visit, tmp_path: Path) -> None:
    table = revisit("tablet")
    inner = tmp_path / "gull" / "files"
    inner.mkdir(parents=True)
    (inner / "gull.svg").write_bytes(card(3))
    (inner / "notes.txt").write_text("hello")
    # A drag from outside, as the browser itself takes it: the page's own events can't hold folders.
    browser = table.page.context.new_cdp_session(table.page)
    data = {"items": [], "files": [str(tmp_path / "gull")], "dragOperationsMask": 1}
    for kind in ("dragEnter", "dragOver", "dragOver", "drop"):
        browser.send("Input.dispatchDragEvent", {"type": kind, "x": 300, "y": 400, "data": data})
    expect(table.openings).to_have_count(3)


def test_files_in_which_there_is_no_design_get_a_sentence_and_what_was_open_stays(revisit: Visit) -> None:
    table = revisit("tablet")
    whole = zipped({"gull.svg": card(3)})
    locked = bytearray(whole)
    for signature, at in ((b"PK\3\4", 6), (b"PK\1\2", 8)):
        locked[whole.index(signature) + at] |= 1
    for files, words in (
        ({"notes.zip": zipped({"notes.txt": b"hello"})}, "There is no design in it"),
        ({"a.txt": b"hello", "b.mp4": b"film"}, "There is no design in it"),
        ({"locked.zip": bytes(locked)}, "zip file is locked"),
        ({"half.zip": whole[:-30], "a.txt": b"hello"}, "There is no design in it"),
    ):
        table.drop_files(files)
        notice = table.page.locator(".notice", has_text=words)
        expect(notice).to_be_visible()
        table.press(notice.get_by_role("button", name="Close"))
        expect(notice).to_have_count(0)
    expect(table.openings).to_have_count(6)


def window_pdf(*pages: int, **locked: str) -> bytes:
    """Return a PDF file with a card of so many openings on each page, in another's writing."""
    document = FPDF(unit="mm", format=(WIDTH_MM + 20, HEIGHT_MM + 20))
    for openings in pages:
        document.add_page()
        with document.new_path(10, 10) as path:
            path.style.fill_color = "#000000"
            path.style.stroke_color = None
            path.style.intersection_rule = "evenodd"
            path.rectangle(10, 10, WIDTH_MM, HEIGHT_MM)
            for x, y in map(corner, range(1, openings + 1)):
                path.rectangle(10 + x, 10 + y, HOLE_MM, HOLE_MM)
    if locked:
        document.set_encryption(**locked)
    return bytes(document.output())


def test_a_page_of_a_pdf_file_becomes_sheets_of_true_size(revisit: Visit, tmp_path: Path) -> None:
    table = revisit("tablet")
    page = table.page
    table.choose_files({"panel.pdf": window_pdf(5)})
    expect(table.openings).to_have_count(5)
    locked = window_pdf(1, owner_password="keeper", user_password="secret")
    for data, words in ((locked, "locked with a password"), (window_pdf(3)[:400], "PDF file is broken")):
        table.drop_files({"other.pdf": data})
        expect(page.locator(".notice", has_text=words)).to_be_visible()
        expect(table.openings).to_have_count(5)
    table.drop_files({"book.pdf": window_pdf(1, 4)})
    expect(page.locator("dialog.tray")).to_contain_text("2 pages")
    second = page.locator(".tray-design", has_text="page 2")
    expect(second).to_be_enabled()
    table.picture("pages")
    table.press(second)
    expect(table.openings).to_have_count(4)
    table.go("Glue-up")
    table.press(page.get_by_role("button", name="Take the sheets"))
    found = read(table.take(page.locator("a.file", has_text="card.svg")), tmp_path)
    assert extent(found) == pytest.approx((WIDTH_MM, HEIGHT_MM), abs=TRUE_SIZE_MM)
