"""PDF files as designs: what their pages paint, at true size, against an independent renderer."""

import io
import math
from collections.abc import Callable
from contextlib import suppress

import numpy as np
import pypdfium2
import pytest
import shapely
from fpdf import FPDF
from fpdf.svg import SVGObject

from peekpaper.drawing.drawing import Drawing
from peekpaper.drawing.ink import ink
from peekpaper.drawing.read import read_drawing
from peekpaper.pipeline import Pipeline
from peekpaper.project.document import new_project
from peekpaper.refusal import Refusal
from peekpaper.sources.pdf.page import count_pages
from peekpaper.sources.read import read_source

PX = 96 / 72
LONG_PX = 300
WRONG_SHARE = 0.002
CARD = "M0 0h80v60h-80zM10 10v20h20v-20zM50 10v20h20v-20z"


def pdf(content: str, page: str = "", objects: str = "", box: str = "0 0 200 100") -> bytes:
    """A file of one page whose content and further objects (from 5 on) are written by hand."""
    more, _, catalog = objects.partition("CATALOG:")
    parts = [
        f"1 0 obj<</Type/Catalog/Pages 2 0 R{catalog}>>endobj\n",
        "2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj\n",
        f"3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[{box}]/Contents 4 0 R{page}>>endobj\n",
        f"4 0 obj<</Length {len(content)}>>stream\n{content}\nendstream endobj\n",
        *(f"{one}endobj\n" for one in more.split("endobj\n") if one),
    ]
    text, table = "%PDF-1.7\n", f"xref\n0 {len(parts) + 1}\n0000000000 65535 f \n"
    for part in parts:
        table += f"{len(text):010d} 00000 n \n"
        text += part
    end = f"trailer<</Size {len(parts) + 1}/Root 1 0 R>>\nstartxref\n{len(text)}\n%%EOF\n"
    return (text + table + end).encode("latin-1")


def drawing(data: bytes) -> Drawing:
    return read_drawing(read_source(data).encode(), 0.02)


def written(draw: Callable[[FPDF], None], pages: int = 1, **options) -> bytes:
    document = FPDF(unit="mm", format=(120, 90))
    document.set_auto_page_break(False)
    for _ in range(pages):
        document.add_page()
        draw(document)
    if options:
        document.set_encryption(**options)
    return bytes(document.output())


def card(document: FPDF) -> None:
    """Our card, by another's converter."""
    path = f'<path fill-rule="evenodd" d="{CARD}"/>'
    text = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 80 60">{path}</svg>'
    SVGObject(text).draw_to_page(document, 10, 10)


def wrong_share(data: bytes) -> float:
    """The share of pixels that an independent renderer paints otherwise, none of them beside an edge."""
    page = pypdfium2.PdfDocument(data)[0]
    image = page.render(scale=LONG_PX / max(page.get_size()), fill_color=(255, 255, 255, 0)).to_numpy()
    seen = image[:, :, 3] > 110 if image.shape[2] == 4 else image.min(axis=2) < 200
    found = drawing(data)
    height, width = seen.shape
    x, y = np.meshgrid(
        (np.arange(width) + 0.5) * found.width / width, (np.arange(height) + 0.5) * found.height / height
    )
    painted = ink(found)
    shapely.prepare(painted)
    edge = shapely.distance(painted.boundary, shapely.points(x, y)) < 1.5 * found.width / width
    return float(((shapely.contains_xy(painted, x, y) != seen) & ~edge).mean())


FORM = (
    "5 0 obj<</Type/XObject/Subtype/Form/BBox[0 0 10 10]/Matrix[2 0 0 2 100 20]/Length 38>>stream\n"
    "0 0 20 4 re f 2 2 m 2 9 l 9 9 l h f \nendstream endobj\n"
)
PAINTED = {
    "fills by both rules": "10 10 80 80 re 30 30 40 40 re f 110 10 80 80 re 130 30 40 40 re f*",
    "strokes with ends, corners and dashes": (
        "8 w 1 J 1 j 20 20 m 60 80 l 90 20 l S "
        "[12 8] 4 d 0 J 120 20 m 180 80 l S [] 0 d 2 J 120 80 m 150 80 l S"
    ),
    "curves of every kind": "10 50 m 10 90 60 90 60 50 c 80 20 100 50 v 120 90 150 50 y 150 10 l h b",
    "what is moved, turned and scaled": (
        "q .5 .5 -.5 .5 100 20 cm 0 0 60 40 re f Q q 2 0 0 2 10 10 cm 1 w 5 5 m 30 5 l S Q"
    ),
    "clips within clips": (
        "q 20 20 m 180 20 l 100 95 l h W n q 0 0 100 100 re W* n 0 30 200 20 re f Q "
        "120 0 20 100 re f Q 0 0 9 9 re f"
    ),
    "a rectangle that clips": (
        "q 20 20 50 50 re W n 0 0 200 45 re f Q q 0 0 200 100 re W n 100 10 50 50 re f Q"
    ),
    "the thinnest line and one that closes": "0 0 0 RG 10 10 m 100 90 l 190 10 l s 5 w 30 50 m 60 50 l S",
    "forms in their places": "/F1 Do q .5 0 0 .5 0 0 cm /F1 Do Q",
    "no end to the states": "q q q 10 10 50 50 re f Q Q Q Q Q 100 10 50 50 re f",
}


@pytest.mark.parametrize("content", PAINTED.values(), ids=PAINTED)
def test_an_independent_renderer_paints_the_same(content):
    assert wrong_share(pdf(content, "/Resources<</XObject<</F1 5 0 R>>>>", FORM)) <= WRONG_SHARE


@pytest.mark.parametrize("page", ["/Rotate 90", "/Rotate 180", "/Rotate -90", "/CropBox[20 10 180 90]", ""])
def test_pages_are_turned_and_cropped_as_they_are_shown(page):
    data = pdf("20 10 m 100 10 l 60 80 l h f 150 60 30 20 re f", page)
    assert wrong_share(data) <= WRONG_SHARE


def test_the_size_is_true():
    data = pdf("0 0 200 100 re f", "/UserUnit 2")
    found = drawing(data)
    assert found.has_physical_size
    assert (found.width, found.height) == pytest.approx((2 * 200 * PX, 2 * 100 * PX))


def test_anothers_converter_of_our_card_gives_the_same_openings():
    design = Pipeline().design(new_project("card.pdf", read_source(written(card))))
    assert not design.size_is_a_guess
    assert len(design.openings) == 2
    assert design.openings[0].area.area == pytest.approx(design.openings[1].area.area, rel=1e-6)


@pytest.mark.parametrize(
    ("content", "colour"),
    [
        ("1 0 0 rg", "#ff0000"),
        (".5 g", "#808080"),
        ("0 1 1 0 k", "#ff0000"),
        ("/CS0 cs 0 0 1 sc", "#0000ff"),
        ("/CS1 cs .5 scn", "#ff8080"),
        ("/CS2 cs 1 sc", "#00ff00"),
        ("/CS3 cs /P0 scn", "#808080"),
    ],
)
def test_colours_of_every_space(content, colour):
    spaces = (
        "/Resources<</ColorSpace<</CS0[/ICCBased 5 0 R]"
        "/CS1[/Separation/Spot/DeviceRGB<</FunctionType 2/Domain[0 1]/C0[1 1 1]/C1[1 0 0]/N 1>>]"
        "/CS2[/Indexed/DeviceRGB 1<ff000000ff00>]/CS3[/Pattern]>>>>"
    )
    profile = "5 0 obj<</N 3/Length 0>>stream\n\nendstream endobj\n"
    (shape,) = drawing(pdf(f"{content} 0 0 50 50 re f", spaces, profile)).shapes
    assert shape.fill.colour == colour


def test_layers_have_their_names_and_those_that_are_off_are_left_out():
    layers = (
        "5 0 obj<</Type/OCG/Name(Frame)>>endobj\n6 0 obj<</Type/OCG/Name(Notes)>>endobj\n"
        "CATALOG:/OCProperties<</OCGs[5 0 R 6 0 R]/D<</OFF[6 0 R]>>>>"
    )
    content = "/OC/L1 BDC 0 0 50 50 re f EMC /OC/L2 BDC 60 0 50 50 re f EMC 120 0 50 50 re f"
    found = drawing(pdf(content, "/Resources<</Properties<</L1 5 0 R/L2 6 0 R>>>>", layers))
    assert [shape.layer for shape in found.shapes] == ["Frame", None]


def test_words_and_pictures_are_told_as_left_out():
    def draw(document: FPDF) -> None:
        card(document)
        document.set_font("Helvetica")
        document.text(10, 85, "cut along the lines")

    assert [one.kind for one in drawing(written(draw)).left_out] == ["words-without-letters"]


def test_each_page_can_be_opened():
    data = written(lambda document: document.rect(10, 10, 10 * document.page, 20, style="F"), pages=3)
    assert count_pages(data) == 3
    widths = [
        max(
            float(np.ptp(shapely.get_coordinates(shape.fill.area)[:, 0]))
            for shape in found.shapes
            if shape.fill
        )
        for found in (read_drawing(read_source(data, page).encode()) for page in (1, 2, 3))
    ]
    assert widths == pytest.approx([10 * number * 96 / 25.4 for number in (1, 2, 3)], rel=1e-3)
    with pytest.raises(Refusal, match="3 pages"):
        read_source(data, 4)


LOCKED = {"owner_password": "keeper", "user_password": "secret"}


AES = (
    "/Encrypt<</Filter/Standard/V 5/R 6/Length 256/P -4/CF<</StdCF<</CFM/AESV3/Length 32>>>>"
    f"/StmF/StdCF/StrF/StdCF/O<{'00' * 48}>/U<{'00' * 48}>/OE<{'00' * 32}>/UE<{'00' * 32}>"
    f"/Perms<{'00' * 16}>>>/ID[<00><00>]"
)
"""A lock by AES (ISO 32000-2, 7.6.4), which opens for nobody here."""


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (written(card, **LOCKED), "pdf-locked"),
        (pdf("0 0 9 9 re f").replace(b"/Root", AES.encode() + b"/Root"), "pdf-sealed"),
        (b"%PDF-1.7\nnothing more", "pdf-broken"),
        (pdf(""), "pdf-nothing"),
        (pdf("BI /W 1 /H 1 /BPC 8 /CS /G ID x EI"), "pdf-picture"),
        (
            pdf(
                "/F1 Do",
                "/Resources<</XObject<</F1 5 0 R>>>>",
                FORM.replace("2 2 m", "/F1 Do").replace("/BBox", "/Resources<</XObject<</F1 5 0 R>>>>/BBox"),
            ),
            None,
        ),
        (pdf("0 0 9 9 re f", box="0 0 0 0"), "pdf-broken"),
        (pdf("0 0 1 1 re f " * 70_000), "parts-repeated"),
    ],
)
def test_files_that_are_locked_broken_or_ask_for_too_much_are_refused(data, code):
    with suppress(Refusal) if code is None else pytest.raises(Refusal) as refused:
        read_source(data)
    if code is not None:
        assert refused.value.code == code


def test_a_file_that_only_its_owner_may_change_opens():
    data = written(card, owner_password="keeper")
    assert drawing(data).shapes


def test_spoilt_files_end_in_a_drawing_or_a_sentence():
    data = written(card)
    size = len(data)
    for k in range(1, 30):
        at = size * k // 30
        for each in (data[:at], data[:at] + b"\xff>>" + data[at + 3 :], data[:at] + data[at + 9 :]):
            with suppress(Refusal):
                assert math.isfinite(drawing(each).width)


def test_bytes_before_the_mark_do_no_harm():
    assert drawing(io.BytesIO(b"\r\n" + written(card)).getvalue()).shapes
