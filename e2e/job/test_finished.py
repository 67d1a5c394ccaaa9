"""The finished work, as a picture to keep and to show around."""

import io
from collections.abc import Callable
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import expect

from e2e.panels import CARD_COLOUR, HEIGHT_MM, WIDTH_MM
from e2e.table import Table, of_colour

Visit = Callable[[str], Table]
KINDS = {"png": "PNG", "jpeg": "JPEG", "webp": "WEBP"}


def test_the_finished_work_is_saved_as_a_picture_without_measures(lay_anew: Visit, tmp_path: Path) -> None:
    table = lay_anew("tablet")
    page = table.page
    table.go("Glue-up")
    table.press(page.get_by_role("button", name="See it finished"))
    expect(page.get_by_role("img", name="finished")).to_have_js_property("complete", value=True)
    for kind, format_name in KINDS.items():
        page.get_by_label("Kind of picture").select_option(kind)
        with page.expect_download() as saving:
            table.press(page.get_by_role("button", name="Save the picture"))
        path = tmp_path / saving.value.suggested_filename
        saving.value.save_as(path)
        picture = Image.open(io.BytesIO(path.read_bytes()))
        assert (picture.format, max(picture.size)) == (format_name, 2048)
        if kind == "png":
            box = of_colour(picture.convert("RGB"), CARD_COLOUR).getbbox()
            assert box is not None
            across, down = box[2] - box[0], box[3] - box[1]
            assert across / down == pytest.approx(WIDTH_MM / HEIGHT_MM, rel=0.01)
    # On a table top and square: wood in every corner, nothing of the ground that a plain picture has.
    table.press(page.locator("dialog").get_by_text("On a table", exact=True))
    page.get_by_label("Shape of the picture").select_option("square")
    with page.expect_download() as saving:
        table.press(page.get_by_role("button", name="Save the picture"))
    saving.value.save_as(path)
    on_table = Image.open(io.BytesIO(path.read_bytes())).convert("RGB")
    assert on_table.size == (2048, 2048)
    corners = [on_table.getpixel((x, y)) for x in (4, 2043) for y in (4, 2043)]
    assert all(red > green > blue and blue < 160 for red, green, blue in corners)
    table.press(page.get_by_role("button", name="Make it in other papers"))
    expect(page.locator("[data-place=papers]")).to_have_attribute("aria-current", "page")
