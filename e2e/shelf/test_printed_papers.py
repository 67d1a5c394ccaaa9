"""Papers that are printed at home: from a picture on the shelf to pages at true size."""

import io
from collections.abc import Callable
from pathlib import Path

import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from PIL import Image
from playwright.sync_api import expect

from e2e.made_papers import sheet_to_print
from e2e.shelf.test_papers import add_photo, at_papers, button, sheets, stocked
from e2e.table import Table

Visit = Callable[[str], Table]
PT_PER_MM = 72 / 25.4


def jpeg_sheet() -> bytes:
    """Return the JPEG of a sheet of 6 x 6 in at 300 px per inch."""
    file = io.BytesIO()
    Image.open(io.BytesIO(sheet_to_print(1800))).save(file, "JPEG", quality=90, dpi=(300, 300))
    return file.getvalue()


def test_a_picture_is_printed_at_true_size_from_the_very_file_that_was_brought(
    revisit: Visit, tmp_path: Path
) -> None:
    table = at_papers(revisit("tablet"))
    page = table.page
    count, brought = stocked(table), jpeg_sheet()
    add_photo(table, "pebbles.jpg", brought)
    table.press(button(table, "Use this paper"))
    expect(sheets(table)).to_have_count(count + 1)
    table.press(button(table, "Change this paper"))
    table.press(page.get_by_text("I print it myself"))
    assert page.get_by_label("Sheet", exact=True).evaluate(
        "(list) => list.selectedOptions[0].textContent"
    ) == ("Letter, 8 1/2 × 11 in")
    page.get_by_label("Sheet", exact=True).select_option(label="A4")
    expect(page.get_by_label("Edge that the printer leaves empty")).to_have_value("1/4 in")
    page.get_by_text("I print it myself").scroll_into_view_if_needed()
    table.picture("printed-paper")
    table.press(button(table, "Keep the changes"))
    table.press(page.get_by_title("all alike", exact=True))
    page.get_by_role("listbox", name="Openings of the design").focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    table.go("Glue-up")
    expect(page.get_by_label("Printed papers (PDF)")).to_be_checked()
    for kind in ("Cut files (SVG)", "Printed templates (PDF)"):
        page.get_by_label(kind).uncheck()
    page.get_by_label("Printed pieces (PDF)").check()
    table.picture("printed-kinds")
    take = button(table, "Take the sheets")
    expect(take).to_be_enabled()
    table.press(take)
    expect(page.locator("a.file", has_text="test strip")).to_contain_text("print first, to see the colours")
    guide = tmp_path / "front.svg"
    table.take(page.locator("a.file", has_text="front.svg")).save_as(guide)
    assert "data:image/jpeg;base64," in guide.read_text(), "the guide shows the paper's own pattern"
    for name in ("printed trims", "printed pieces", "test strip"):
        path = tmp_path / f"{name}.pdf"
        table.take(page.locator("a.file", has_text=name).first).save_as(path)
        pages = pypdfium2.PdfDocument(path)
        images = [thing for thing in pages[0].get_objects() if thing.type == pdfium.FPDF_PAGEOBJ_IMAGE]
        assert bytes(images[0].get_data(decode_simple=False)) == brought
        if name != "test strip":
            assert pages[0].get_size() == pytest.approx((210 * PT_PER_MM, 297 * PT_PER_MM), abs=0.1)
            # A repeat of the picture is 6 in wide, however little of it is seen.
            assert images[0].get_matrix().a == pytest.approx(6 * 72, abs=0.1) or images[0].get_matrix().b
