"""Documents: SVG 1.1, 5 (use, symbol, switch), 7.9 (nested svg), 11.6 (markers), 14.3 (clip paths)."""

import pytest
from drawn import drawing_of, ink_of, is_painted
from english import english
from shapely import box

SQUARE = '<rect id="s" width="10" height="10"/>'


@pytest.mark.parametrize("link", ['href="#s"', 'xlink:href="#s"', 'href="#s" xlink:href="#none"'])
def test_use_draws_its_target_again_elsewhere(link: str) -> None:
    assert ink_of(f'{SQUARE}<use {link} x="20" y="5"/>').bounds == pytest.approx((0, 0, 30, 15))


def test_use_moves_after_its_own_transform() -> None:
    body = f'<defs>{SQUARE}</defs><use href="#s" x="10" transform="scale(2)"/>'
    assert ink_of(body).bounds == pytest.approx((20, 0, 40, 20))


def test_what_is_used_inherits_from_the_use() -> None:
    shapes = drawing_of(f'<defs fill="red">{SQUARE}</defs><use href="#s" fill="#00ff00"/>').shapes
    assert [shape.fill.colour for shape in shapes if shape.fill] == ["#00ff00"]


@pytest.mark.parametrize(
    "body",
    [
        '<use id="a" href="#a"/>',
        '<g id="a"><use href="#a"/></g>',
        '<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>',
        '<symbol id="a"><use href="#a"/></symbol><use href="#a"/>',
        '<use href="#none"/><use href=""/><use/>',
    ],
)
def test_uses_that_go_round_in_circles_or_nowhere_draw_nothing(body: str) -> None:
    assert ink_of(body + SQUARE).area == 100


def test_a_symbol_is_drawn_by_use_alone_and_fits_its_view_box() -> None:
    symbol = '<symbol id="y" viewBox="0 0 5 5"><rect width="5" height="5"/></symbol>'
    assert ink_of(symbol).is_empty
    assert ink_of(f'{symbol}<use href="#y" x="10" width="20" height="20"/>').bounds == (10, 0, 30, 20)


@pytest.mark.parametrize(
    ("overflow", "width"), [("hidden", 20), ("visible", 90), ("auto", 90), ("scroll", 20)]
)
def test_a_nested_svg_cuts_off_what_reaches_out_of_it(overflow: str, width: float) -> None:
    body = f'<svg x="10" width="20" height="20" overflow="{overflow}"><rect width="99" height="9"/></svg>'
    assert ink_of(body).bounds == pytest.approx((10, 0, 10 + width, 9))


def test_percentages_in_a_nested_svg_are_of_its_view_box() -> None:
    body = '<svg width="50" height="50" viewBox="0 0 10 10"><rect width="50%" height="10%"/></svg>'
    assert ink_of(body).bounds == pytest.approx((0, 0, 25, 5))


def test_the_page_cuts_off_ink_yet_shapes_stay_whole() -> None:
    drawing = drawing_of('<rect x="90" width="50" height="10"/>')
    (shape,) = drawing.shapes
    assert shape.fill is not None
    assert shape.fill.area.bounds == (90, 0, 140, 10)
    assert ink_of('<rect x="90" width="50" height="10"/>').bounds == (90, 0, 100, 10)


@pytest.mark.parametrize(
    ("first", "is_taken"),
    [
        ('systemLanguage="en"', True),
        ('systemLanguage="fr, en-GB"', True),
        ('systemLanguage="fr"', False),
        ('systemLanguage=""', False),
        ('requiredExtensions="urn:x"', False),
        ('requiredExtensions=""', False),
        ("", True),
    ],
)
def test_switch_draws_the_first_child_whose_tests_hold(first: str, is_taken: bool) -> None:
    body = f'<switch><desc/><rect {first} width="10" height="10"/><rect width="20" height="20"/></switch>'
    assert ink_of(body.replace("<desc/>", "")).area == (100 if is_taken else 400)


@pytest.mark.parametrize(
    "holder", ["defs", "clipPath", "mask", "marker", "pattern", "linearGradient", "metadata", "odd"]
)
def test_shapes_in_what_is_only_referred_to_are_not_drawn(holder: str) -> None:
    assert ink_of(f"<{holder}>{SQUARE}</{holder}>").is_empty


def test_elements_of_other_namespaces_are_not_drawn() -> None:
    assert ink_of(f'<g xmlns:x="urn:x"><x:rect width="9" height="9"/></g>{SQUARE}').area == 100


def test_clip_path_in_both_units() -> None:
    rect = '<rect x="20" y="20" width="40" height="40" clip-path="url(#c)"/>'
    user = '<clipPath id="c"><rect x="30" y="30" width="50" height="50"/></clipPath>'
    of_box = '<clipPath id="c" clipPathUnits="objectBoundingBox">'
    of_box += '<rect x="0.5" y="0.25" width="9" height="0.5"/></clipPath>'
    assert ink_of(user + rect).bounds == (30, 30, 60, 60)
    assert ink_of(of_box + rect).bounds == (40, 30, 60, 50)


def test_clip_paths_are_the_union_of_their_children_and_may_be_clipped_themselves() -> None:
    clips = """<clipPath id="outer"><rect width="100" height="25"/></clipPath>
        <clipPath id="c" clip-path="url(#outer)"><rect width="20" height="99"/>
        <rect x="40" width="20" height="99" clip-path="url(#half)"/></clipPath>
        <clipPath id="half"><rect width="50" height="99"/></clipPath>"""
    area = ink_of(clips + '<rect width="100" height="100" clip-path="url(#c)"/>')
    assert area.symmetric_difference(box(0, 0, 20, 25).union(box(40, 0, 50, 25))).area < 1e-9


@pytest.mark.parametrize(("rule", "area"), [("nonzero", 1600), ("evenodd", 1200)])
def test_clip_rule(rule: str, area: float) -> None:
    clip = f'<clipPath id="c"><path clip-rule="{rule}" d="M10 10h40v40h-40zM20 20h20v20h-20z"/></clipPath>'
    assert ink_of(clip + '<rect width="99" height="99" clip-path="url(#c)"/>').area == pytest.approx(area)


@pytest.mark.parametrize(
    ("content", "area"),
    [
        ("", 0),
        ('<g><rect width="9" height="9"/></g>', 0),
        ('<rect width="10" height="10" visibility="hidden"/>', 0),
        ('<rect width="10" height="10" display="none"/>', 0),
        ('<rect width="10" height="10" opacity="0" fill="none" stroke="red" stroke-width="9"/>', 100),
        ('<use href="#s" x="5"/>', 100),
        ('<use href="#g"/>', 0),
    ],
)
def test_what_counts_in_a_clip_path(content: str, area: float) -> None:
    defs = f'<defs><g id="g">{SQUARE}</g></defs><clipPath id="c">{content}</clipPath>'
    assert ink_of(defs + '<rect width="99" height="99" clip-path="url(#c)"/>').area == pytest.approx(area)


@pytest.mark.parametrize("address", ["none", "url(#none)", "url(#s)", "nonsense"])
def test_a_clip_path_that_is_none_hides_nothing(address: str) -> None:
    assert ink_of(f'<g clip-path="{address}">{SQUARE}</g>').area == 100


def test_a_group_is_clipped_by_the_box_of_all_its_content() -> None:
    clip = '<clipPath id="c" clipPathUnits="objectBoundingBox"><rect width="0.5" height="1"/></clipPath>'
    group = '<g clip-path="url(#c)"><rect width="10" height="10"/>'
    group += '<rect x="50" width="10" height="10" opacity="0"/></g>'
    assert ink_of(clip + group).bounds == (0, 0, 10, 10)
    assert ink_of(clip + group.replace('x="50"', 'x="5"')).bounds == (0, 0, 7.5, 10)


def test_markers_stand_on_the_vertices_and_turn_with_the_path() -> None:
    marker = (
        '<marker id="m" refX="0" refY="1" markerWidth="4" markerHeight="2" orient="auto" markerUnits="{}">'
    )
    marker += '<rect width="4" height="2" fill="{}"/></marker>'
    path = '<path d="M10 10H50V50" fill="none" stroke="red" stroke-width="2" marker-end="url(#m)"/>'
    arrow = ink_of(marker.format("strokeWidth", "red") + path)
    assert is_painted(arrow, 50, 57)
    assert not is_painted(arrow, 50, 59)
    assert is_painted(ink_of(marker.format("userSpaceOnUse", "red") + path), 50, 53.9)
    shapes = drawing_of(marker.format("strokeWidth", "context-stroke") + path).shapes
    assert [shape.fill.colour for shape in shapes if shape.fill] == ["#ff0000"]


def test_layers_and_names() -> None:
    body = """<g inkscape:label="Card" xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" id="l1">
        <g id="inner"><rect id="bar" width="9" height="9"/></g></g><g id="l2"><rect width="9" height="9"/></g>
        <rect width="9" height="9"/>"""
    assert [(shape.layer, shape.name) for shape in drawing_of(body).shapes] == [
        ("Card", "bar"),
        ("l2", None),
        (None, None),
    ]


def test_contours_are_kept_for_lines_that_paint_nothing() -> None:
    (shape,) = drawing_of('<path fill="none" d="M0 0H10V10zM20 20H30"/>').shapes
    assert (shape.fill, shape.stroke) == (None, None)
    assert [contour.closed for contour in shape.contours] == [True, False]
    assert shape.contours[0].line.length == pytest.approx(20 + 200**0.5)


@pytest.mark.parametrize(
    "shape",
    [
        "circle(20%)",
        "inset(5px 10px)",
        "polygon(0 0, 50% 0, 0 50%)",
        "fill-box Ellipse(4px 2px)",
        "path('M0 0')",
    ],
)
def test_a_clip_by_a_shape_in_css_hides_nothing_and_is_named(shape: str) -> None:
    for clip in (f'clip-path="{shape}"', f'style="clip-path: {shape}"'):
        drawing = drawing_of(SQUARE.replace("<rect", f"<rect {clip}", 1))
        assert [(one.kind, one.count) for one in drawing.left_out] == [("clip-shape", 1)]
        assert sum(one.fill.area.area for one in drawing.shapes if one.fill) == 100


def test_content_that_can_not_become_geometry_is_named_and_counted() -> None:
    body = """<text>a</text><text>b</text><defs><text>c</text></defs><text display="none">d</text><image/>
        <mask id="m"/><filter id="f"/><pattern id="p"/><script/><use href="other.svg#x"/><foreignObject/>
        <rect width="9" height="9" mask="url(#m)" filter="url(#f)" fill="url(#p)"/>"""
    left_out = {one.kind: one for one in drawing_of(body).left_out}
    assert {kind: one.count for kind, one in left_out.items()} == {
        "text": 2, "image": 1, "filter": 1, "mask": 1, "pattern": 1, "external": 1, "script": 1,
        "unreadable": 1,
    }  # fmt: skip
    assert english(left_out["text"].message) == (
        "2 pieces of text are not drawn: add their font files, or have them drawn in another typeface."
    )


NOT_SEEN = {
    "hidden": 'visibility="hidden" fill="url(#p)"',
    "see-through": 'opacity="0" fill="url(#p)"',
    "fill see-through": 'fill="url(#p)" fill-opacity="0"',
    "no stroke": 'fill="none" stroke="url(#p)" stroke-width="0"',
    "hidden with a filter": 'visibility="hidden" filter="blur(2px)"',
    "see-through with a filter": 'opacity="0" filter="blur(2px)"',
}
PATTERN = '<pattern id="p" width="4" height="4"><path d="M0 0h2v2h-2z"/></pattern>'


@pytest.mark.parametrize("paint", NOT_SEEN.values(), ids=NOT_SEEN.keys())
def test_nothing_is_said_to_be_left_out_of_what_would_not_be_seen(paint: str) -> None:
    assert drawing_of(f'{PATTERN}<rect width="9" height="9" {paint}/>').left_out == ()


@pytest.mark.parametrize(
    "paint",
    ['visibility="hidden"', 'opacity="0"', 'fill="none"', 'fill="none" stroke="red" stroke-width="0"'],
)
def test_a_shape_of_numbers_beyond_all_measure_is_missed_only_where_it_would_be_seen(paint: str) -> None:
    def kinds(paint: str) -> list[str]:
        return [one.kind for one in drawing_of(f'<path d="M0 0H1e38V9z" {paint}/>').left_out]

    assert kinds("") == ["unreadable"]
    assert kinds(paint) == []


@pytest.mark.parametrize("paint", ['visibility="hidden"', 'opacity="0"', 'fill="none"'])
def test_a_size_in_letters_is_missed_only_where_it_would_be_seen(paint: str) -> None:
    assert [one.kind for one in drawing_of('<rect width="9lh" height="9"/>').left_out] == ["font-unit"]
    assert drawing_of(f'<rect width="9lh" height="9" {paint}/>').left_out == ()
