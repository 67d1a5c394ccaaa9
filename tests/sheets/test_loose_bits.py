"""Card that no bar holds is cut, numbered and glued on: it vanishes from no sheet."""

import io
from dataclasses import replace

import ezdxf
import pypdfium2
import pytest
import shapely
from PIL import Image
from sample_work import sample_work
from shapely import Polygon, box
from sheet_readers import deviation, read_svg_cuts

from peekpaper.design.design import Limits, LooseBit, Reading
from peekpaper.design.make import make_design
from peekpaper.drawing.read import read_drawing
from peekpaper.sheets.choices import SheetChoices, SheetKind
from peekpaper.sheets.take import take_sheets

TARGET = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40"><path'
    ' fill-rule="evenodd" d="M0 0H60V40H0ZM5 5H35V35H5ZM40 5H55V35H40ZM10 10H30V30H10ZM15 15H25V25H15Z'
    'M18 18H22V22H18Z"/></svg>'
)


def with_bits():
    """The sample with a ring loose in its first opening and a dot loose in that ring."""
    work = sample_work(24)
    x, y = work.design.openings[0].area.centroid.coords[0]
    ring = Polygon(box(x - 4, y - 4, x + 4, y + 4).exterior, [box(x - 2, y - 2, x + 2, y + 2).exterior])
    dot = box(x - 1, y - 1, x + 1, y + 1)
    bits = (LooseBit(1, ring, 1), LooseBit(2, dot, 1))
    return replace(work, design=replace(work.design, loose_bits=bits))


WORK = with_bits()


def files(work=WORK, **choices) -> dict[str, bytes]:
    return {file.name: file.data for file in take_sheets(work, SheetChoices(**choices))}


def words(pdf: bytes) -> str:
    document = pypdfium2.PdfDocument(pdf)
    return "\n".join(page.get_textpage().get_text_bounded() for page in document)


def test_bits_within_bits_are_numbered_in_reading_order_with_the_opening_that_they_lie_in():
    design = make_design(read_drawing(TARGET.encode(), 0.05), Reading(), Limits())
    assert [bit.name for bit in design.loose_bits] == ["L1", "L2"]
    assert {bit.opening for bit in design.loose_bits} == {1}
    assert sorted(round(bit.area.area) for bit in design.loose_bits) == [16, 300]


@pytest.mark.parametrize("mirrored", [False, True])
def test_the_card_file_cuts_each_loose_bit_before_the_opening_around_it(mirrored):
    cuts = read_svg_cuts(
        files(kinds=(SheetKind.CUT,), unit="mm", mirrored=mirrored)["harbour-panel card.svg"]
    )
    assert list(cuts.groups) == ["loose-bits", "openings", "outside"]
    group = cuts.groups["loose-bits"]
    assert list(group) == ["loose-bit-2", "loose-bit-1-hole-1", "loose-bit-1"]
    ring, dot = (bit.area for bit in WORK.design.loose_bits)
    wanted = {
        "loose-bit-1": Polygon(ring.exterior),
        "loose-bit-1-hole-1": Polygon(ring.interiors[0]),
        "loose-bit-2": dot,
    }
    for name, area in wanted.items():
        placed = shapely.transform(area, lambda points: points * (-1, 1) + (WORK.design.width_mm, 0))
        assert deviation(group[name], placed if mirrored else area) <= 0.02


def test_the_drawing_exchange_file_of_the_card_holds_them():
    def cuts(work):
        data = files(work, kinds=(SheetKind.DXF,), unit="mm")
        card = next(content for name, content in data.items() if " card " in name)
        return len(ezdxf.read(io.StringIO(card.decode())).modelspace().query('*[layer=="CUT"]'))

    assert cuts(WORK) == cuts(sample_work(24)) + 3


def test_templates_and_guide_name_each_loose_bit():
    data = files(kinds=(SheetKind.TEMPLATES, SheetKind.GLUE_UP))
    pdfs = {name: words(content) for name, content in data.items() if name.endswith(".pdf")}
    assert len(pdfs) == 2
    for text in pdfs.values():
        assert "L1" in text
        assert "L2" in text
    (guide,) = (text for name, text in pdfs.items() if "glue-up" in name)
    assert "Turn the work face up" in guide
    assert "Loose bits" in guide


def test_the_front_shows_them_in_the_cards_colour_and_the_paper_through_their_holes():
    data = files(kinds=(SheetKind.GLUE_UP,))
    without = {
        file.name: file.data
        for file in take_sheets(sample_work(24), SheetChoices(kinds=(SheetKind.GLUE_UP,)))
    }
    name = next(name for name in data if name.endswith("front.png"))
    seen, before = (Image.open(io.BytesIO(file[name])).convert("RGB") for file in (data, without))
    x, y = WORK.design.openings[0].area.centroid.coords[0]
    scale = seen.width / (WORK.design.width_mm + 16)

    def at(image, dx, dy):
        return image.getpixel((round((x + dx + 8) * scale), round((y + dy + 8) * scale)))

    card = before.getpixel((round((2 + 8) * scale), round((y + 8) * scale)))
    assert at(seen, 3, 3) == card
    assert at(seen, 0.5, 0.5) == card
    assert at(seen, 1.5, 0) == at(before, 5.5, 5.5)
