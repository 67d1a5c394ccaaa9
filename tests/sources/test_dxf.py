"""Drawing exchange files as designs: what they draw, at which size, and what becomes of broken ones."""

import io
import math
from contextlib import suppress
from dataclasses import replace

import ezdxf
import pytest
import shapely
import trimesh
from ezdxf import units

from peekpaper.drawing.drawing import Drawing
from peekpaper.drawing.read import read_drawing
from peekpaper.lengths import MM_PER_INCH
from peekpaper.pipeline import Pipeline
from peekpaper.project.document import new_project
from peekpaper.refusal import Refusal
from peekpaper.sources.read import read_source

MM = MM_PER_INCH / 96
AREA_SHARE = 0.001


def made(draw, insunits=units.MM, release="R2010", **header) -> bytes:
    """A file in which `draw(model space, document)` drew."""
    document = ezdxf.new(release, units=insunits)
    for name, value in header.items():
        document.header[f"${name}"] = value
    draw(document.modelspace(), document)
    text = io.StringIO()
    document.write(text)
    return document.encode(text.getvalue())


def binary(data: bytes) -> bytes:
    document, written = ezdxf.read(io.StringIO(data.decode())), io.BytesIO()
    document.write(written, fmt="bin")
    return written.getvalue()


def drawing(data: bytes) -> Drawing:
    return read_drawing(read_source(data).encode(), 0.001)


def closed_areas(data: bytes) -> list[float]:
    """The areas within closed lines and of fills, in mm2, the largest first."""
    shapes = drawing(data).shapes
    lines = [
        shapely.Polygon(each.line).area
        for shape in shapes
        for each in shape.contours
        if each.closed and not shape.fill
    ]
    return sorted(
        (MM * MM * area for area in [*lines, *(s.fill.area.area for s in shapes if s.fill)]), reverse=True
    )


def design_of(data: bytes):
    return Pipeline().design(new_project("made.dxf", read_source(data)))


def pieces_of_a_frame(space, _document):
    """A frame of four lines, and in it a slot of two lines and two arcs, drawn in no order and to and fro."""
    for start, end in (((0, 0), (60, 0)), ((60, 40), (60, 0)), ((60, 40), (0, 40)), ((0, 0), (0, 40))):
        space.add_line(start, end)
    space.add_line((40, 10), (20, 10))
    space.add_arc((20, 20), 10, 90, 270)
    space.add_line((20, 30), (40, 30))
    space.add_arc((40, 20), 10, 270, 90)


def test_lines_and_arcs_that_meet_are_one_outline_each():
    data = made(pieces_of_a_frame)
    assert closed_areas(data) == pytest.approx([2400, 20 * 20 + math.pi * 100], rel=1e-4)
    (opening,) = design_of(data).openings
    assert opening.area.area == pytest.approx(20 * 20 + math.pi * 100, rel=AREA_SHARE)


def bulges(space, _document):
    space.add_circle((20, 20), 15)
    space.add_lwpolyline([(60, 0, 0.4), (90, 0, -0.3), (90, 30, 1.2), (60, 30, 0)], format="xyb", close=True)


def curves(space, document):
    bulges(space, document)
    space.add_open_spline([(0, 60), (30, 60), (35, 90), (5, 95), (0, 60)], degree=3)
    space.add_rational_spline([(60, 60), (90, 60), (95, 90), (60, 60)], [1, 2, 1, 1], degree=2)
    space.add_polyline2d([(120, 60, 0.5), (150, 60, 0.5)], format="xyb", close=True)


def test_arcs_enclose_what_an_independent_reader_says():
    data = made(bulges)
    other = trimesh.load_path(io.BytesIO(data), file_type="dxf")
    expected = sorted((shapely.Polygon(line).area for line in other.discrete), reverse=True)
    # trimesh draws arcs with fewer chords than we do.
    assert closed_areas(data) == pytest.approx(expected, rel=2e-3)


def test_splines_enclose_what_their_library_says_and_pass_through_nothing_else():
    data = made(curves)
    document = ezdxf.read(io.StringIO(data.decode()))
    expected = [
        shapely.Polygon([point.vec2 for point in spline.construction_tool().approximate(4000)]).area
        for spline in document.modelspace().query("SPLINE")
    ]
    found = closed_areas(data)
    for area in expected:
        assert min(abs(one - area) for one in found) <= AREA_SHARE * area


def test_an_ellipse_and_a_circle_have_the_areas_of_the_closed_forms():
    def draw(space, _document):
        space.add_circle((0, 0), 50)
        space.add_ellipse((200, 0), major_axis=(30, 10), ratio=0.5)

    major = math.hypot(30, 10)
    assert closed_areas(made(draw)) == pytest.approx([math.pi * 2500, math.pi * major * major / 2], rel=1e-4)


def test_blocks_are_put_in_their_places_with_their_turn_size_layer_and_colour():
    def draw(space, document):
        document.layers.add("Petals", color=1)
        block = document.blocks.new("petal")
        block.add_lwpolyline([(0, 0), (10, 0), (10, 5), (0, 5)], close=True)
        block.add_lwpolyline([(2, 1), (4, 1), (4, 3), (2, 3)], close=True, dxfattribs={"color": 0})
        outer = document.blocks.new("pair")
        outer.add_blockref("petal", (0, 0), dxfattribs={"color": 5})
        outer.add_blockref("petal", (30, 0), dxfattribs={"xscale": 2, "yscale": 3, "rotation": 90})
        space.add_blockref("pair", (100, 100), dxfattribs={"layer": "Petals"})

    shapes = drawing(made(draw)).shapes
    assert {shape.layer for shape in shapes} == {"Petals"}
    assert [shape.stroke.colour for shape in shapes] == ["#ff0000", "#0000ff", "#ff0000", "#ff0000"]
    assert closed_areas(made(draw)) == pytest.approx([300, 50, 24, 4])


def test_hatches_are_filled_areas_with_their_holes():
    def draw(space, _document):
        hatch = space.add_hatch(color=3)
        hatch.paths.add_polyline_path([(0, 0), (40, 0), (40, 40), (0, 40)], is_closed=True, flags=1)
        hatch.paths.add_polyline_path([(10, 10), (30, 10), (30, 30), (10, 30)], is_closed=True, flags=16)

    (shape,) = drawing(made(draw)).shapes
    assert shape.fill.colour == "#00ff00"
    assert shape.fill.area.area * MM * MM == pytest.approx(1600 - 400)


def test_layers_that_are_off_or_frozen_are_left_out_and_true_colours_kept():
    def draw(space, document):
        document.layers.add("hidden").off()
        document.layers.add("cold").freeze()
        for layer in ("hidden", "cold"):
            space.add_circle((0, 0), 90, dxfattribs={"layer": layer})
        space.add_circle((0, 0), 10, dxfattribs={"true_color": 0x123456})

    assert [shape.stroke.colour for shape in drawing(made(draw)).shapes] == ["#123456"]


@pytest.mark.parametrize(
    ("code", "mm"), [(units.MM, 1.0), (units.IN, 25.4), (units.CM, 10.0), (units.M, 1000.0)]
)
def test_the_header_tells_the_size(code, mm):
    def draw(space, _document):
        space.add_lwpolyline([(0, 0), (150 / mm, 0), (150 / mm, 90 / mm), (0, 90 / mm)], close=True)
        space.add_circle((60 / mm, 40 / mm), 20 / mm)

    design = design_of(made(draw, code))
    assert not design.size_is_a_guess
    assert (design.width_mm, design.height_mm) == pytest.approx((150, 90), abs=0.01)


@pytest.mark.parametrize(
    ("side", "metric", "mm"), [(150, 1, 150), (6, 1, 152.4), (6, 0, 152.4), (12, 1, 304.8), (25, 0, 25)]
)
def test_a_file_without_units_gets_the_likeliest_size_which_is_told_to_be_a_guess(side, metric, mm):
    def draw(space, _document):
        space.add_lwpolyline([(0, 0), (side, 0), (side, side), (0, side)], close=True)
        space.add_circle((side / 2, side / 2), side / 4)

    design = design_of(made(draw, 0, MEASUREMENT=metric))
    assert design.size_is_a_guess
    assert design.width_mm == pytest.approx(mm, rel=1e-4)


def test_a_unit_in_which_no_card_would_be_so_large_is_not_believed():
    def draw(space, _document):
        space.add_lwpolyline([(0, 0), (200, 0), (200, 100), (0, 100)], close=True)
        space.add_circle((100, 50), 20)

    design = design_of(made(draw, units.M))
    assert (design.width_mm, design.size_is_a_guess) == (pytest.approx(200, rel=1e-4), True)


def test_words_in_the_drawing_are_told_as_left_out():
    def draw(space, _document):
        space.add_circle((0, 0), 30)
        space.add_text("cut here & now", height=5)

    assert [(one.kind, one.count) for one in drawing(made(draw)).left_out] == [("text", 1)]


def test_binary_files_draw_what_their_texts_do():
    data = made(pieces_of_a_frame)
    assert closed_areas(binary(data)) == pytest.approx(closed_areas(data))


def test_a_file_that_is_cut_off_is_told():
    data = made(lambda space, _: [space.add_circle((20 * k, 0), 5) for k in range(40)])
    at = data.rindex(b"CIRCLE", 0, data.rindex(b"OBJECTS"))
    assert [one.key for one in drawing(data[:at]).notices] == ["notice.broken-off"]


def blocks_within_blocks(space, document):
    inner = document.blocks.new("b0")
    inner.add_circle((0, 0), 1)
    for depth in range(1, 9):
        block = document.blocks.new(f"b{depth}")
        for k in range(10):
            block.add_blockref(f"b{depth - 1}", (k, depth))
    space.add_blockref("b8", (0, 0))


def a_block_within_itself(space, document):
    block = document.blocks.new("own")
    block.add_circle((0, 0), 1)
    block.add_blockref("own", (1, 1))
    space.add_blockref("own", (0, 0))


def rows_without_end(space, document):
    document.blocks.new("dot").add_circle((0, 0), 1)
    dots = {"row_count": 30_000, "column_count": 30_000, "row_spacing": 1, "column_spacing": 1}
    space.add_blockref("dot", (0, 0), dxfattribs=dots)


@pytest.mark.parametrize(
    ("draw", "code"),
    [
        (blocks_within_blocks, "parts-repeated"),
        (a_block_within_itself, "groups-nested"),
        (rows_without_end, "parts-repeated"),
        (lambda space, document: None, "dxf-nothing"),
        (lambda space, document: space.add_point((1, 1)), "dxf-nothing"),
        (lambda space, document: space.add_circle((1e308, 1e308), 1e308), "dxf-nothing"),
    ],
)
def test_a_file_that_asks_for_too_much_or_draws_nothing_is_refused(draw, code):
    with pytest.raises(Refusal) as refused:
        read_source(made(draw))
    assert refused.value.code in {code, "dxf-broken"}


def test_spoilt_files_end_in_a_drawing_or_a_sentence():
    data = made(curves)
    lines = data.split(b"\n")
    spoilt = [data[: len(data) * k // 12] for k in range(1, 12)]
    for k in range(1, 24):
        at = len(lines) * k // 24
        spoilt += [
            b"\n".join([*lines[:at], b"\xff1e999", *lines[at + 1 :]]),
            b"\n".join([*lines[:at], *lines[at + 1 :]]),
        ]
    for each in (*spoilt, b"0\nSECTION\n", b"0\nSECTION\n2\nENTITIES\n", b"  0\r\nEOF\r\n"):
        with suppress(Refusal):
            assert drawing(each).width > 0


def test_a_width_set_by_the_person_wins_over_the_header():
    project = new_project("made.dxf", read_source(made(pieces_of_a_frame)))
    wider = replace(project, reading=replace(project.reading, width_mm=120.0))
    assert Pipeline().design(wider).width_mm == pytest.approx(120)
