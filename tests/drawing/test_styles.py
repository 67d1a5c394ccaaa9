"""The cascade: CSS Cascading 4, chapters 6 and 7, Selectors 4, and SVG 2, chapter 6; colours: CSS Color 4."""

import pytest
from drawn import colours_of, drawing_of, ink_of

RECT = '<rect id="r" class="a b" width="10" height="10" fill="#111111" {}/>'


def fill_of(sheet: str, rect: str = RECT.format("")) -> str:
    (colour,) = colours_of(f"<style>{sheet}</style><g class='g'><g>{rect}</g></g>")
    return colour


@pytest.mark.parametrize(
    "selector",
    [
        "rect", "*", ".a", ".a.b", "#r", "svg rect", "g > g > rect", ".g rect", "[id]", "[id=r]",
        "[class~=b]", "[width^='1']", "rect:first-child", ":not(circle)", "g rect:nth-child(1)",
        "style + g rect",
        "style ~ g rect", "circle, rect", ":root rect", "rect:only-child", ":is(circle, rect)",
    ],
)  # fmt: skip
def test_selectors_that_match(selector: str) -> None:
    assert fill_of(f"{selector} {{ fill: #00ff00 }}") == "#00ff00"


@pytest.mark.parametrize(
    "selector", ["circle", ".c", "#x", "svg > rect", "rect:hover", "rect::before", "g + rect"]
)
def test_selectors_that_do_not_match(selector: str) -> None:
    assert fill_of(f"{selector} {{ fill: #00ff00 }}") == "#111111"


@pytest.mark.parametrize(
    ("sheet", "attributes"),
    [
        ("rect { fill: red } rect { fill: #00ff00 }", ""),
        ("#r { fill: #00ff00 } .a.b { fill: red }", ""),
        (".a.b { fill: #00ff00 } .a { fill: red } rect { fill: red }", ""),
        ("#r { fill: red }", 'style="fill: #00ff00"'),
        ("rect { fill: #00ff00 !important }", 'style="fill: red"'),
        ("rect { fill: red !important }", 'style="fill: #00ff00 !important"'),
        ("rect { fill: #00ff00 !important } #r { fill: red }", ""),
        ("rect { fill: #00ff00; fill: nonsense }", ""),
        ("rect { fill: #00ff00 } @import url(other.css); @font-face { fill: red }", ""),
        ("@media screen { rect { fill: #00ff00 } } @media print { rect { fill: red } }", ""),
        ("rect { FILL: #00FF00 } /* rect { fill: red } */", ""),
        ("<!-- rect { fill: #00ff00 } -->".replace("<", "&lt;"), ""),
        ("rect } rect { fill: red } rect { fill: #00ff00 }", ""),
        ("g { --ink: #00ff00 } rect { fill: var(--ink, red) }", ""),
        ("rect { fill: var(--missing, #00ff00) }", ""),
    ],
)
def test_the_stronger_declaration_wins(sheet: str, attributes: str) -> None:
    assert fill_of(sheet, RECT.format(attributes)) == "#00ff00"


def test_variables_that_hold_themselves_are_in_error() -> None:
    assert fill_of("rect { --a: var(--b); --b: var(--a); fill: var(--a) }") == "#111111"


def test_sheets_of_other_types_and_media_are_passed_over() -> None:
    body = (
        '<style type="text/x"> rect { fill: red } </style><style media="print"> rect { fill: red } </style>'
    )
    assert colours_of(body + RECT.format("")) == ["#111111"]


def test_what_is_inherited_and_what_is_not() -> None:
    body = '<g fill="#00ff00" opacity="0.5" clip-path="none"><rect width="9" height="9"/></g>'
    (shape,) = drawing_of(body).shapes
    assert shape.fill is not None
    assert (shape.fill.colour, shape.fill.alpha) == ("#00ff00", 0.5)


def test_current_color_is_that_of_the_element_that_uses_it() -> None:
    body = '<g fill="currentColor" color="red"><rect color="#00ff00" width="9" height="9"/></g>'
    assert colours_of(body) == ["#00ff00"]


@pytest.mark.parametrize("word", ["inherit", "unset"])
def test_inherit_takes_the_parent_s_value(word: str) -> None:
    assert colours_of(f'<g fill="#00ff00"><rect fill="{word}" width="9" height="9"/></g>') == ["#00ff00"]


def test_initial_is_black() -> None:
    assert colours_of('<g fill="#00ff00"><rect fill="initial" width="9" height="9"/></g>') == ["#000000"]


@pytest.mark.parametrize(
    ("written", "colour"),
    [
        ("#0f0", "#00ff00"), ("#0F0F", "#00ff00"), ("#00FF0080", "#00ff00"), ("lime", "#00ff00"),
        ("LiMe", "#00ff00"), ("rgb(0,255,0)", "#00ff00"), ("rgb(0% 100% 0%)", "#00ff00"),
        ("rgba(0, 255, 0, 0.5)", "#00ff00"), ("rgb(0 255 0 / 50%)", "#00ff00"),
        ("rgb(-9, 300, 0)", "#00ff00"), ("hsl(120, 100%, 50%)", "#00ff00"),
        ("hsl(120deg 100% 50%)", "#00ff00"), ("hwb(120 0% 0%)", "#00ff00"),
        # CSS Color 4, 10.1 and 10.2: sample values of lab() and oklab() next to their sRGB equivalents.
        ("lab(46.2775% -47.5621 48.5837)", "#008000"), ("oklab(51.975% -0.1403 0.10768)", "#008000"),
        ("color(srgb 0 1 0)", "#00ff00"), ("#CD853F icc-color(paint, 0.1, 0.2)", "#cd853f"),
    ],
)  # fmt: skip
def test_each_way_to_write_a_colour(written: str, colour: str) -> None:
    assert colours_of(f'<rect width="9" height="9" fill="{written}"/>') == [colour]


@pytest.mark.parametrize("written", ["", "#12", "#ggg", "rgb(1 2)", "blurple", "12"])
def test_a_colour_in_error_counts_as_not_there(written: str) -> None:
    assert colours_of(f'<rect width="9" height="9" fill="{written}"/>') == ["#000000"]


@pytest.mark.parametrize(
    "attributes",
    [
        'fill="none"', 'fill="transparent"', 'fill-opacity="0"', 'opacity="0"', 'opacity="-1"',
        'opacity="0%"', 'visibility="hidden"', 'display="none"', 'style="display:none"',
        'fill="#00000000"', 'fill="url(#none)"',
        'fill="url(#none) none"', 'fill="url(#empty)"', 'transform="scale(0)"',
    ],
)  # fmt: skip
def test_ways_to_paint_nothing(attributes: str) -> None:
    assert ink_of(f'<linearGradient id="empty"/><rect width="9" height="9" {attributes}/>').is_empty


def test_visibility_can_come_back_within_a_hidden_group_and_display_can_not() -> None:
    rect = '<rect width="9" height="9" visibility="visible" display="inline"/>'
    assert not ink_of(f'<g visibility="hidden">{rect}</g>').is_empty
    assert ink_of(f'<g display="none">{rect}</g>').is_empty


def test_gradients_count_as_their_strongest_stop() -> None:
    body = """<linearGradient id="a"><stop stop-color="red" stop-opacity="0.2"/>
        <stop offset="1" style="stop-color: #00ff00"/></linearGradient>
        <radialGradient id="b" href="#a"/><rect width="9" height="9" fill="url(#b) blue"/>"""
    assert colours_of(body) == ["#00ff00"]


def test_a_pattern_counts_as_its_ground() -> None:
    body = """<pattern id="a" width="4" height="4"><g fill="#00ff00"><path d="M0 0h4v4h-4z"/></g>
        <circle r="1" fill="red"/></pattern><pattern id="b" href="#a"/>
        <rect width="9" height="9" fill="url(#a)"/><rect x="9" width="9" height="9" fill="url(#b)"/>"""
    assert colours_of(body) == ["#00ff00", "#00ff00"]
    assert ink_of(body).area == pytest.approx(162)


@pytest.mark.parametrize("server", ["url(#none) #00ff00", "url('#none')#00ff00", "url(#p) #00ff00"])
def test_a_fallback_serves_where_a_paint_can_not(server: str) -> None:
    body = f'<pattern id="p" width="1" height="1"/><rect width="9" height="9" fill="{server}"/>'
    assert colours_of(body) == ["#00ff00"]


def test_a_stroke_below_its_fill_comes_first() -> None:
    body = '<rect width="9" height="9" fill="#00ff00" stroke="#ff0000" paint-order="stroke"/>'
    assert colours_of(body) == ["#ff0000", "#00ff00"]
