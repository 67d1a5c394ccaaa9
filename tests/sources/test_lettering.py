"""Words become outlines: against an independent renderer (resvg) that is given the same typeface."""

import base64
import io

import numpy as np
import pytest
import resvg_py
import shapely
from fontTools.ttLib import TTFont
from PIL import Image
from typefaces import NAME, small_typeface

from peekpaper.drawing.ink import ink
from peekpaper.drawing.read import read_drawing
from peekpaper.refusal import Refusal
from peekpaper.sources.lettering.draw import with_outlines, words_without_own
from peekpaper.sources.lettering.typeface import called, read_typeface, stand_in
from peekpaper.sources.read import read_source

WIDTH = 600
AGREES = 0.001


def svg(words: str, more: str = "") -> str:
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        f'viewBox="0 0 300 150" width="300" height="150" font-family="Arimo">{more}{words}</svg>'
    )


PLAIN = '<text x="10" y="80" font-size="%s">%s</text>'
CASES = {
    "plain": svg(PLAIN % (40, "Harbour fête")),
    "kerned": svg(PLAIN % (44, "AVATAR To Ty.")),
    "in the middle": svg(
        '<text x="150" y="80" font-size="30" text-anchor="middle">Gull <tspan>nest</tspan></text>'
    ),
    "at the end": svg('<text x="290" y="80" font-size="30" style="text-anchor:end">Gull nest</text>'),
    "lines": svg(
        '<text x="150" y="40" font-size="26" text-anchor="middle">One'
        '<tspan x="150" dy="1.2em">and two</tspan><tspan x="150" dy="1.2em">or three</tspan></text>'
    ),
    "places of letters": svg('<text x="10 60 110 160" y="50 70 90 110" font-size="36">Gulls fly</text>'),
    "shifted letters": svg('<text x="10" y="80" dx="0 10 -4" dy="0 -10 10" font-size="36">Lantern</text>'),
    "turned letters": svg('<text x="20" y="80" rotate="0 20 -30" font-size="36">Lantern</text>'),
    "spaced": svg(PLAIN % ('24" letter-spacing="4" word-spacing="20', "sea and sky")),
    "in parts": svg(
        PLAIN % (24, 'sea <tspan font-size="40">and</tspan> <a><tspan dy="-10">high</tspan></a> sky')
    ),
    "raised": svg(PLAIN % (36, 'x<tspan baseline-shift="12">2</tspan>y')),
    "shorthand": svg(
        '<text class="t" x="10" y="80">Beacon</text>', "<style>.t { font: 38px 'Arimo', serif }</style>"
    ),
    "moved and slanted": svg(
        '<g transform="translate(40 20) rotate(12)">'
        '<text y="40" font-size="36" transform="skewX(-20)">Beacon</text></g>'
    ),
    "spaces": svg(PLAIN % (24, "\n   sea\n   and   <tspan> sky </tspan>\n")),
    "kept spaces": svg(PLAIN % ('24" xml:space="preserve', "  sea   sky")),
    "outlined": svg(PLAIN % ('60" fill="none" stroke="#000" stroke-width="2', "Sea")),
    "round a curve": svg(
        '<text font-size="24"><textPath xlink:href="#c" startOffset="10%">lighthouse on the pier</textPath>'
        "</text>",
        '<defs><path id="c" d="M20 130 A 110 110 0 0 1 280 130"/></defs>',
    ),
    "from right to left": svg(PLAIN % (36, "שלום")),
    "as a clip": svg(
        '<rect width="300" height="150" clip-path="url(#w)"/>',
        f'<clipPath id="w">{PLAIN % (80, "Pier")}</clipPath>',
    ),
    "drawn twice": svg('<use xlink:href="#w" y="60"/>', PLAIN % ('40" id="w', "Pier")),
}


@pytest.fixture(scope="module")
def arimo(tmp_path_factory: pytest.TempPathFactory):
    path = tmp_path_factory.mktemp("typeface") / "arimo.ttf"
    typeface = stand_in()
    path.write_bytes(typeface.data)
    return typeface, str(path)


def share_that_differs(file: str, lettered: str, path: str) -> float:
    png = resvg_py.svg_to_bytes(svg_string=file, width=WIDTH, skip_system_fonts=True, font_files=[path])
    painted = np.asarray(Image.open(io.BytesIO(png)).convert("RGBA"))[..., 3] > 64
    rows, columns = painted.shape
    x, y = np.meshgrid((np.arange(columns) + 0.5) / 2, (np.arange(rows) + 0.5) / 2)
    area = ink(read_drawing(lettered.encode()))
    shapely.prepare(area)
    ours = shapely.contains_xy(area, x, y)
    wrong = (ours & ~grown(painted)) | (painted & ~grown(ours))
    return float(wrong.sum() / painted.sum())


def grown(mask):
    padded = np.pad(mask, 1)
    rows, columns = mask.shape
    return np.logical_or.reduce([padded[y : y + rows, x : x + columns] for y in range(3) for x in range(3)])


@pytest.mark.parametrize("name", CASES)
def test_words_look_as_an_independent_renderer_draws_them(name, arimo):
    typeface, path = arimo
    lettered = with_outlines(CASES[name], [typeface])
    assert not words_without_own(lettered)
    assert share_that_differs(CASES[name], lettered, path) < 0.01


def held(data: bytes, kind: str = "font/ttf", name: str = "Harbour Script") -> str:
    address = f"data:{kind};base64,{base64.b64encode(data).decode()}"
    return f"<style>@font-face {{ font-family: '{name}'; src: local(x), url(\"{address}\") }}</style>"


def as_woff(data: bytes) -> bytes:
    font = TTFont(io.BytesIO(data))
    font.flavor = "woff"
    kept = io.BytesIO()
    font.save(kept)
    return kept.getvalue()


ABBA = '<text x="0" y="100" font-size="100" font-family="Harbour Script, serif">%s</text>'


def total(file: str) -> float:
    return ink(read_drawing(file.encode())).area


@pytest.mark.parametrize("pack", [bytes, as_woff])
def test_words_whose_typeface_the_file_holds_are_drawn_as_it_is_opened(pack):
    file = svg(ABBA % "ab", held(pack(small_typeface())))
    read = read_source(file.encode())
    # A ligature: one box, 80 by 70; the two letters would have 30 by 70 and 60 by 70.
    assert total(read) == pytest.approx(80 * 70)
    assert read_drawing(read.encode()).left_out == ()
    assert read_drawing(read.encode()).notices == ()
    spaced = svg(ABBA.replace("<text", '<text letter-spacing="1"') % "ab", held(pack(small_typeface())))
    assert total(read_source(spaced.encode())) == pytest.approx(90 * 70)


def test_a_typeface_is_taken_by_its_name_and_stands_in_where_nothing_asks_for_it():
    own = read_typeface(small_typeface())
    assert own.name == NAME
    asks = svg((ABBA.replace("Harbour Script", "two letters") % "a") + ABBA % "b")
    named = with_outlines(asks, [own])
    assert [one.family for one in words_without_own(named)] == ["Harbour Script"]
    assert read_drawing(named.encode()).notices == ()
    other = with_outlines(svg(ABBA % "b"), [own])
    assert total(other) == pytest.approx(60 * 70)
    (notice,) = read_drawing(other.encode()).notices
    assert notice.key == "notice.stand-in"
    assert notice.figures["typeface"] == NAME
    # The right one that comes later takes its place, and the words stay as they are.
    again = with_outlines(other, [called(own, "Harbour Script")])
    assert read_drawing(again.encode()).notices == ()
    assert again.count("<path") == 1


def test_words_are_left_whole_where_a_letter_is_missing_or_they_run_downwards():
    own = read_typeface(small_typeface())
    for words in (ABBA % "abc", ABBA.replace("<text", '<text writing-mode="tb"') % "a"):
        assert len(words_without_own(with_outlines(svg(words), [own]))) == 1


PUBLIC = '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">'
OPEN = '<svg xmlns="http://www.w3.org/2000/svg">'


def test_words_are_drawn_in_files_of_any_writing():
    for file in (
        f'{PUBLIC}<svg><text y="9" >a&nbsp;a<!-- <text> --></text><text>a</text></svg>',
        '<s:svg xmlns:s="http://www.w3.org/2000/svg"><s:text y="9">a</s:text><s:text>a</s:text></s:svg>',
        f'<!DOCTYPE svg [<!ENTITY w "a">]>{OPEN}<text>&w;</text><text>é&w;</text></svg>',
    ):
        drawn = with_outlines(file, (), stand_in())
        assert drawn.count("<path") == 2
        assert read_drawing(drawn.encode()).left_out == ()
    # Of a file that breaks off, what ended before that.
    half = with_outlines(f"{OPEN}<text>a</text><text>a", (), stand_in())
    assert half.count("<path") == 1
    assert [one.count for one in read_drawing(half.encode()).left_out] == [1]


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "typeface-broken"),
        (b"hello", "typeface-broken"),
        (b"wOF2" + bytes(99), "typeface-woff2"),
        (b"\0\1\0\0" + bytes(999), "typeface-broken"),
        (small_typeface()[:200], "typeface-broken"),
        (as_woff(small_typeface())[:300], "typeface-broken"),
        (as_woff(small_typeface())[:56] + b"\xff" * 300, "typeface-too-large"),
    ],
)
def test_what_is_no_typeface_is_refused_in_a_sentence(data, code):
    with pytest.raises(Refusal) as caught:
        read_typeface(data)
    assert caught.value.code == code


def test_spoilt_typefaces_in_a_file_leave_its_words_as_they_are():
    whole = small_typeface()
    for at in range(0, len(whole), 37):
        spoilt = whole[:at] + bytes([whole[at] ^ 0xFF]) + whole[at + 1 :]
        read_drawing(read_source(svg(ABBA % "ab", held(spoilt)).encode()).encode())
