import pytest
from english import english
from panels import design_of
from shapely import MultiPolygon, Polygon, box

from peekpaper.design.parts import split_parts


def ring(outer: float, inner: float) -> Polygon:
    return box(-outer, -outer, outer, outer).difference(box(-inner, -inner, inner, inner))


def test_a_loose_bit_is_no_card_and_does_not_shrink_its_opening():
    design = design_of(MultiPolygon([ring(30, 20), box(-5, -5, 5, 5)]))
    assert [opening.area.area for opening in design.openings] == [pytest.approx(1600)]
    assert sum(bit.area.area for bit in design.loose_bits) == pytest.approx(100)
    assert design.card.area == pytest.approx(3600 - 1600)


def test_everything_inside_a_loose_bit_is_loose_too():
    parts = split_parts(MultiPolygon([ring(30, 25), ring(20, 15), ring(10, 5), box(-2, -2, 2, 2)]))
    assert len(parts.card.geoms) == 1
    assert len(parts.openings) == 1
    assert len(parts.loose_bits.geoms) == 3


def test_a_hole_in_a_loose_bit_is_no_opening():
    design = design_of(MultiPolygon([ring(30, 20), ring(10, 5)]))
    assert len(design.openings) == 1


def test_what_lies_in_a_crack_goes_with_it():
    crack = box(-10, -0.001, 10, 0.001).union(box(-0.05, -0.05, 0.05, 0.05))
    parts = split_parts(
        MultiPolygon([box(-30, -30, 30, 30).difference(crack), box(-0.04, -0.04, 0.04, 0.04)])
    )
    assert (len(parts.card.geoms), len(parts.openings), len(parts.loose_bits.geoms)) == (1, 0, 0)


def test_parts_beside_one_another_are_all_card():
    design = design_of(MultiPolygon([ring(20, 10), box(30, 0, 40, 10)]))
    assert len(design.card.geoms) == 2
    assert design.loose_bits == ()


def test_a_bit_that_hangs_on_by_a_single_point_is_loose():
    frame = ring(20, 10)
    bit = Polygon([(10, 0), (5, 3), (5, -3)])
    (loose,) = design_of(MultiPolygon([frame, bit])).loose_bits
    assert loose.area.area == pytest.approx(bit.area)


def test_hairline_cracks_between_shapes_that_should_abut_are_closed():
    """Shapes that abut but for rounding leave a crack of a hundredth of a millimetre."""
    left, right = box(0, 0, 10, 20), box(10.01, 0, 20, 20)
    bridge = MultiPolygon([left, right]).union(box(9, 0, 11, 1)).union(box(9, 19, 11, 20))
    assert split_parts(MultiPolygon([bridge])).openings == ()


def test_slivers_that_are_left_out_are_told_but_rounding_is_not():
    cracked = ring(30, 20).difference(box(-25, 22, 25, 22.01)).difference(box(22, -25, 22.0001, 25))
    design = design_of(MultiPolygon([cracked, box(40, -20, 40.01, 20)]))
    assert len(design.openings) == 1
    assert design.width_mm == pytest.approx(60)
    [told] = [warning for warning in design.warnings if warning.code == "slivers"]
    assert told.message.figures == {"count": 2}
    assert english(told.message).startswith("2 slivers finer than a knife can cut were left out")


def test_dust_beside_the_card_does_not_count_for_its_size():
    design = design_of(MultiPolygon([ring(20, 10), box(60, 60, 60.015, 60.015)]))
    assert (design.width_mm, design.height_mm) == (pytest.approx(40), pytest.approx(40))
