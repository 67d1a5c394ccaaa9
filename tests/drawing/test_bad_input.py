"""Files that are no design, damaged, or made to do harm: a clear sentence or a safe reading."""

import gzip
import re

import pytest
from drawn import svg
from english import english

from peekpaper.drawing.ink import ink
from peekpaper.drawing.read import read_drawing
from peekpaper.refusal import Refusal

SQUARE = '<rect width="10" height="10"/>'
FILE = svg(SQUARE)


def area_of(data: bytes) -> float:
    return float(ink(read_drawing(data)).area)


def refusal_of(data: bytes) -> str:
    with pytest.raises(Refusal) as caught:
        read_drawing(data)
    return str(caught.value)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "empty"),
        (b" \n\0", "empty"),
        (b"\x89PNG\r\n\x1a\n" + bytes(50), "PNG picture"),
        (b"\xff\xd8\xff\xe0" + bytes(50), "JPEG picture"),
        (b"%PDF-1.7\n", "PDF file"),
        (b"PK\x03\x04" + bytes(50), "zip file"),
        (b"<!DOCTYPE html><html><svg></svg></html>", "web page"),
        (b"<html></html>", "web page"),
        (bytes(range(256)) * 9, "no SVG file"),
        (b"a shopping list", "no SVG file"),
        (b"<xml/>", "no SVG file"),
        (b"<svg", "no SVG file"),
        (b"\x1f\x8b\x08\x00????????", "damaged"),
        (gzip.compress(FILE.encode(), mtime=0)[:12], "damaged"),
        (b'<svg xmlns="http://www.w3.org/2000/svg" width="0" height="5"/>', "no size"),
        (b'<svg xmlns="http://www.w3.org/2000/svg" width="-5" height="5"/>', "no size"),
        (b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 0 5"/>', "no size"),
        (b'<svg xmlns="http://www.w3.org/2000/svg" width="1e300" height="5"/>', "too large"),
        (b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1e300 1e300" width="5"/>', "too large"),
        (b'<svg xmlns="http://www.w3.org/2000/svg"/>', "no size"),
    ],
)
def test_what_is_no_design_is_named(data: bytes, words: str) -> None:
    sentence = refusal_of(data)
    assert words in sentence
    assert re.fullmatch(r"[A-Z][^\n]+: [^\n]+\.", sentence)


@pytest.mark.parametrize(
    "data",
    [
        FILE.encode("utf-8-sig"),
        FILE.encode("utf-16"),
        FILE.encode("utf-16-le"),
        FILE.encode("utf-16-be"),
        FILE.encode("utf-32"),
        gzip.compress(FILE.encode(), mtime=0),
        b"\n  " + FILE.encode(),
        b'<?xml version="1.0" encoding="ISO-8859-1"?><!-- \xe9 -->' + FILE.encode(),
        b'<?xml version="1.0" encoding="utf-8"?><!-- \xe9 -->' + FILE.encode(),
        b'<?xml version="1.0" encoding="none-such"?>' + FILE.encode(),
        b'<?xml version="1.0" encoding="utf-16"?>' + FILE.encode(),
        FILE.replace('xmlns="http://www.w3.org/2000/svg" ', "").replace("xlink", "x").encode(),
        FILE.replace("<svg", "<s:svg").replace("</svg", "</s:svg").replace("xmlns=", "xmlns:s=")
            .replace("<rect", "<s:rect").encode(),
    ],
)  # fmt: skip
def test_every_packing_and_encoding_of_a_file_reads_the_same(data: bytes) -> None:
    assert area_of(data) == 100


@pytest.mark.parametrize("end", ["<rect x='5' wid", "<g>", "</b>", "&nope;", "\x01", "<![CDATA["])
def test_a_file_that_breaks_off_is_read_as_far_as_it_goes(end: str) -> None:
    drawing = read_drawing(svg(SQUARE).replace("</svg>", end).encode())
    assert ink(drawing).area == 100
    assert any("breaks off" in english(notice) for notice in drawing.notices)


def test_end_tags_that_were_left_behind_do_no_harm() -> None:
    left = f"</x:xmpmeta>\n<g>é</rdf:RDF>{SQUARE}</g>"
    drawing = read_drawing(svg(left).encode())
    assert ink(drawing).area == 100
    assert not drawing.notices


def test_entities_of_the_file_itself_are_replaced() -> None:
    text = f'<!DOCTYPE svg [<!ENTITY a "{SQUARE.replace(chr(34), chr(39))}"><!ENTITY w "20">]>'
    assert area_of((text + svg('&a;<rect x="50" width="&w;" height="5"/>')).encode()) == 200


def test_names_that_web_pages_use_do_no_harm() -> None:
    text = (
        '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">'
    )
    assert area_of((text + svg(f"<desc>a&nbsp;b&eacute;</desc>{SQUARE}")).encode()) == 100


def test_what_lies_outside_the_file_is_not_fetched_and_is_named() -> None:
    text = '<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/hostname">]>' + svg(f"&a;{SQUARE}")
    drawing = read_drawing(text.encode())
    assert ink(drawing).area == 100
    assert [one.kind for one in drawing.left_out] == ["external"]


def laughs() -> str:
    entities = '<!ENTITY a0 "<g/>">' + "".join(f'<!ENTITY a{i} "{f"&a{i - 1};" * 10}">' for i in range(1, 10))
    return f"<!DOCTYPE svg [{entities}]>" + svg("&a9;")


def uses() -> str:
    groups = "".join(
        f'<g id="u{i}">{f"<use href={chr(34)}#u{i - 1}{chr(34)}/>" * 10}</g>' for i in range(1, 9)
    )
    return svg(f'<defs><g id="u0"/>{groups}</defs><use href="#u8"/>')


def clips() -> str:
    """Clips that clip one another, made anew for each shape since they fit its box."""
    nested = "".join(
        f'<clipPath id="c{i}" clipPathUnits="objectBoundingBox" clip-path="url(#c{i + 1})">'
        '<circle cx="0.5" cy="0.5" r="0.5"/></clipPath>'
        for i in range(100)
    )
    return svg(nested + '<rect width="20" height="20" clip-path="url(#c0)"/>' * 500)


def scribbles() -> str:
    points = " ".join(f"{37 * i % 200} {91 * i % 200}" for i in range(200))
    return svg(f'<path fill-rule="evenodd" d="M{points}z"/>' * 30)


def tangles() -> str:
    points = " ".join(f"{i * i * 37 % 9973} {i * i * 91 % 9967}" for i in range(4000))
    return svg(f'<path d="M{points}z"/>' * 9)


def chained_clips() -> str:
    links = "".join(
        f'<clipPath id="c{i}" clip-path="url(#c{i + 1})">{SQUARE}</clipPath>' for i in range(3000)
    )
    return svg(f'{links}<rect width="20" height="20" clip-path="url(#c0)"/>')


def arrows_in_arrows() -> str:
    nested = "".join(
        f'<marker id="m{i}"><path d="M0 0L1 1 2 0 1 2" stroke="red" marker-mid="url(#m{i + 1})"/></marker>'
        for i in range(20)
    )
    return svg(f'{nested}<path d="M0 0L5 5 9 0" stroke="red" marker-mid="url(#m0)"/>')


@pytest.mark.parametrize(
    "text",
    [
        laughs(),
        '<!DOCTYPE svg [<!ENTITY a "&b;"><!ENTITY b "&a;">]>' + svg("&a;"),
        uses(),
        svg("<g>" * 5000 + "</g>" * 5000),
        svg(SQUARE * 60_000),
        svg('<path d="M0 0' + "l1 1" * 4_000_000 + '"/>'),
        svg('<path stroke="red" d="M0 0H1e6" stroke-dasharray="1e-9"/>'),
        svg(
            "<style>"
            + "".join(f".a{i} ~ .b{i} {{fill: red}}" for i in range(3000))
            + "</style>"
            + "<g/>" * 3000
        ),
        clips(),
        chained_clips(),
        arrows_in_arrows(),
        svg("<style>" + "a{fill:red}" * 30_000 + "</style>" + SQUARE),
        scribbles(),
        tangles(),
    ],
    ids=[
        "laughs",
        "circular",
        "uses",
        "deep",
        "many",
        "long",
        "dashes",
        "rules",
        "clips",
        "chained clips",
        "arrows in arrows",
        "many rules",
        "scribbles",
        "tangles",
    ],
)  # fmt: skip
def test_files_made_to_grow_without_end_are_refused(text: str) -> None:
    assert refusal_of(text.encode()).endswith(".")


@pytest.mark.parametrize(
    "paint", ['stroke="red" fill="none"', "", 'fill-rule="evenodd"', 'stroke="red" stroke-dasharray="300 5"']
)
def test_a_scribble_of_thousands_of_points_is_left_out_alone(paint: str) -> None:
    points = " ".join(f"{i * i * 37 % 9973 / 100} {i * i * 91 % 9967 / 100}" for i in range(5000))
    drawing = read_drawing(svg(f'<polyline points="{points}" {paint}/>{SQUARE}').encode())
    assert [(kind.kind, kind.count) for kind in drawing.left_out] == [("tangled", 1)]
    assert drawing.left_out[0].boxes[0] == pytest.approx((0, 0, 99.7, 99.7), abs=0.5)
    assert ink(drawing).area == 100


def test_a_compressed_file_that_unpacks_without_end_is_refused() -> None:
    assert "larger than" in refusal_of(gzip.compress(b"<svg>" + bytes(70_000_000), 1))


@pytest.mark.parametrize(
    "shape",
    [
        '<path d="M1e300 0L10 10 0 10z"/>',
        '<path d="M0 0A1e300 1e-300 0 0 1 1e300 1e300z"/>',
        '<path d="M0 0A1e-300 1 0 0 1 1e300 0z"/>',
        '<path d="M0 0L1e999 0 0 10z"/>',
        '<rect x="1e300" width="1e300" height="1e300"/>',
        '<rect width="5" height="5" transform="scale(1e300)"/>',
        '<path d="M0 0H9" stroke="red" stroke-width="1e300"/>',
    ],
)
def test_numbers_beyond_all_measure_lose_their_own_shape_alone(shape: str) -> None:
    drawing = read_drawing(svg(SQUARE + shape).encode())
    assert ink(drawing).area == 100
    assert [(one.kind, one.count) for one in drawing.left_out] == [("unreadable", 1)]


@pytest.mark.parametrize(
    "shape",
    [
        '<path d="M NaN 0L10 10z"/>', '<rect width="NaN" height="5"/>', '<circle r="-5"/>',
        '<ellipse rx="5" ry="0"/>',
        '<polygon points="1"/>', '<line/>', '<rect transform="matrix(NaN 0 0 1 0 0)" width="1" height="1"/>',
        '<rect style="fill:' + "(" * 3000 + '" width="1" height="1"/>',
        "<style>a" + ":not(" * 3000 + "</style>",
        '<path d="M0 0A1e200 1e-200 0 1 1 9 9A1e-320 1 0 1 0 1 1A1 1 1e300 1 0 0 0z"/>',
        '<rect fill="' + "url(#a) " * 5000 + '" width="1" height="1"/>',
    ],
)  # fmt: skip
def test_nonsense_in_a_shape_does_no_harm_to_the_others(shape: str) -> None:
    assert area_of(svg(SQUARE + shape).encode()) == 100


def test_an_error_in_a_path_is_told() -> None:
    drawing = read_drawing(svg('<path d="M0 0H10V10x"/>').encode())
    assert len(drawing.notices) == 1
    assert english(drawing.notices[0]).startswith("1 shape holds an error and is drawn only up to there: ")


def test_reading_tells_how_far_it_is() -> None:
    shares: list[float] = []
    read_drawing(svg(SQUARE * 500).encode(), progress=shares.append)
    assert shares == sorted(shares)
    assert len(shares) > 5
    assert 0 < shares[0] < shares[-1] < 1
