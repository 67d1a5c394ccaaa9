"""Designs in other kinds of files than SVG: from the drop, or the device's own dialog, to sheets."""

import io
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import ezdxf
import pytest
from playwright.sync_api import expect

from e2e.job.test_main_job import extent, read
from e2e.panels import HEIGHT_MM, HOLE_MM, WIDTH_MM, corner
from e2e.table import Table

Visit = Callable[[str], Table]
TRUE_SIZE_MM = 0.02


def window_dxf(openings: int, millimetres: bool = True) -> bytes:
    """Return the tests' window with fewer openings, its lines drawn one by one."""
    document = ezdxf.new("R2010", units=4 if millimetres else 0)
    space = document.modelspace()
    frame = (0.0, 0.0, WIDTH_MM, HEIGHT_MM)
    holes = [(*corner(number), HOLE_MM, HOLE_MM) for number in range(1, openings + 1)]
    for x, y, width, height in (frame, *holes):
        corners = [(x, y), (x + width, y), (x + width, y + height), (x, y + height), (x, y)]
        for start, end in pairwise(corners):
            space.add_line(start, end)
    text = io.StringIO()
    document.write(text)
    return text.getvalue().encode()


def test_a_drawing_exchange_file_becomes_sheets_of_true_size(revisit: Visit, tmp_path: Path) -> None:
    table = revisit("tablet")
    table.drop_files({"panel.dxf": window_dxf(5)})
    expect(table.openings).to_have_count(5)
    table.picture("dxf")
    table.choose_files({"other.DXF": window_dxf(4, millimetres=False)})
    expect(table.openings).to_have_count(4)
    table.drop_files({"broken.dxf": window_dxf(3)[:1500]})
    expect(table.page.locator(".notice", has_text="DXF file is broken")).to_be_visible()
    expect(table.openings).to_have_count(4)
    table.go("Glue-up")
    table.press(table.page.get_by_role("button", name="Take the sheets"))
    card = read(table.take(table.page.locator("a.file", has_text="card.svg")), tmp_path)
    assert extent(card) == pytest.approx((WIDTH_MM, HEIGHT_MM), abs=TRUE_SIZE_MM)
