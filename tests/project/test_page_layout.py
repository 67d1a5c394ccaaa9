"""The finished piece on its page."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from peekpaper.project.page_layout import PAGE_SIZES, start_layout


def test_the_standard_sizes_are_those_of_their_standards() -> None:
    sizes = {size.name: (size.width_mm, size.height_mm) for size in PAGE_SIZES}
    # ISO 216:2007, table 1.
    assert (sizes["Page A4"], sizes["Page A5"], sizes["Card A6"]) == ((210, 297), (148, 210), (105, 148))
    # ANSI/ASME Y14.1, size A: 8.5 x 11 in.
    assert sizes["Page 8.5 × 11 in"] == pytest.approx((215.9, 279.4))
    assert sizes["Page 12 × 12 in"] == pytest.approx((304.8, 304.8))


@given(st.floats(1, 600), st.floats(1, 600))
def test_piece_and_title_lie_on_the_page_without_touching(width: float, height: float) -> None:
    page = start_layout(width, height)
    assert page.blocks[0].kind == "piece"
    assert (page.blocks[0].width_mm, page.blocks[0].height_mm) == (width, height)
    for block in page.blocks:
        assert block.x_mm == pytest.approx(page.width_mm / 2)
        assert block.x_mm + block.width_mm / 2 <= page.width_mm + 1e-6
        assert block.y_mm - block.height_mm / 2 >= -1e-6
        assert block.y_mm + block.height_mm / 2 <= page.height_mm + 1e-6
    for title in page.blocks[1:]:
        assert title.y_mm - title.height_mm / 2 > page.blocks[0].y_mm + height / 2


def test_a_piece_larger_than_every_size_gets_a_page_of_its_own() -> None:
    page = start_layout(500, 400)
    assert (page.width_mm, page.height_mm, len(page.blocks)) == (500, 400, 1)
