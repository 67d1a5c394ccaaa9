"""Designs in other kinds of files than SVG: dropped, or chosen in the device's dialog."""

import io
from base64 import b64encode
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import ezdxf
import pytest
from PIL import Image, ImageDraw
from playwright.sync_api import expect

from e2e.job.test_main_job import extent, read
from e2e.panels import HEIGHT_MM, HOLE_MM, WIDTH_MM, corner
from e2e.table import Table
from peekpaper.geometry.projective import projection

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


PX_PER_MM = 10
SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9">'
TABLE, SHEET, INK = (70, 80, 90), (214, 208, 198), (52, 47, 44)
CORNERS = ((150, 90), (1180, 60), (1120, 790), (80, 720))
"""Where the sheet lies in the photo, px, clockwise from its top left."""


def drawn_window(openings: int) -> Image.Image:
    """Return the tests' window with fewer openings in black on white."""
    picture = Image.new("RGB", (round(WIDTH_MM) * PX_PER_MM, round(HEIGHT_MM) * PX_PER_MM), "black")
    draw = ImageDraw.Draw(picture)
    for x, y in map(corner, range(1, openings + 1)):
        left, top, side = (round(value * PX_PER_MM) for value in (x, y, HOLE_MM))
        draw.rectangle((left, top, left + side - 1, top + side - 1), fill="white")
    return picture


def packed(picture: Image.Image, kind: str) -> bytes:
    kept = io.BytesIO()
    per_inch = PX_PER_MM * 25.4
    picture.save(kept, kind, **({"dpi": (per_inch, per_inch)} if kind == "PNG" else {"quality": 88}))
    return kept.getvalue()


def photographed_window(openings: int) -> bytes:
    """Return a photo of a sheet with the window on it, seen askew on a dark table."""
    sheet = Image.new("RGB", (1200, 900), SHEET)
    sheet.paste(Image.new("RGB", (1000, 700), INK), (100, 100))
    window = drawn_window(openings).convert("L")
    sheet.paste(Image.new("RGB", window.size, SHEET), (100, 100), window)
    size = (1280, 860)
    # Pillow wants the map from the photo back to the sheet: eight factors of a projection.
    back = projection(CORNERS, ((0, 0), (1200, 0), (1200, 900), (0, 900))).ravel()[:8]
    way = (size, Image.Transform.PERSPECTIVE, tuple(back), Image.Resampling.BICUBIC)
    cover = Image.new("L", sheet.size, 255).transform(*way)
    photo = Image.new("RGB", size, TABLE)
    photo.paste(sheet.transform(*way), (0, 0), cover)
    return packed(photo, "JPEG")


def test_pictures_become_designs(revisit: Visit, tmp_path: Path) -> None:
    table = revisit("tablet")
    page = table.page
    found = page.locator(".trace-found")

    def choose(name: str) -> None:
        table.press(page.get_by_role("button", name=name))

    # What the browser can't decode, such as HEIC in this one.
    heic = b"\0\0\0\x18ftypheic\0\0\0\0mif1heic" + bytes(900)
    for name, picture in (("broken.jpg", photographed_window(3)[:900]), ("photo.heic", heic)):
        table.drop_files({name: picture})
        choose("A design to cut")
        notice = page.locator(".notice", has_text="can't be read here: save it as JPEG or PNG")
        expect(notice).to_contain_text(name)
        table.press(notice.get_by_role("button", name="Close"))
    expect(table.openings).to_have_count(6)
    # A drawing that is but a picture within is traced, too.
    inside = b64encode(packed(drawn_window(2), "PNG")).decode()
    table.drop(
        "wrapped.svg", f'{SVG}<image width="9" height="9" href="data:image/png;base64,{inside}"/></svg>'
    )
    choose("Trace it")
    expect(found).to_have_text("2 openings")
    table.press(page.locator("dialog[open]").get_by_role("button", name="Cancel"))
    # A scan tells its size itself.
    table.choose_files({"window scan.png": packed(drawn_window(5), "PNG")})
    table.picture("what-it-shows")
    choose("A design to cut")
    expect(found).to_have_text("5 openings")
    table.picture("tracing-a-scan")
    choose("Make the design")
    expect(table.openings).to_have_count(5)
    expect(page.locator("#menu-button")).to_contain_text("window scan")
    # In a photo the sheet's corners are dragged to where they are.
    table.drop_files({"window photo.jpg": photographed_window(4)})
    choose("A design to cut")
    table.press(page.get_by_text("What I mark", exact=True))
    left, top, width, height = table.box(page.locator(".corners-picture"))
    for at, (x, y) in enumerate(CORNERS):
        across, down, *size = table.box(page.locator(".corner").nth(at))
        page.mouse.move(across + size[0] / 2, down + size[1] / 2)
        page.mouse.down()
        page.mouse.move(left + x / 1280 * width, top + y / 860 * height, steps=3)
        page.mouse.up()
    expect(found).to_have_text("4 openings")
    table.picture("tracing-a-photo")
    table.press(page.get_by_text("What is light", exact=True))
    expect(found).not_to_have_text("4 openings")
    table.press(page.get_by_text("What is dark", exact=True))
    expect(found).to_have_text("4 openings")
    choose("Make the design")
    expect(table.openings).to_have_count(4)
    table.go("Glue-up")
    choose("Take the sheets")
    card = read(table.take(page.locator("a.file", has_text="card.svg")), tmp_path)
    # The sheet is taken for A4, lying: of its 1200 px the card has 1000.
    assert extent(card)[0] == pytest.approx(297 * 1000 / 1200, abs=2)
