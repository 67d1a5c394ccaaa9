import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from panels import KINDS, design_of
from shapely import Polygon, affinity, box

from peekpaper.design.openings.alike import group_alike


def ray() -> Polygon:
    return Polygon([(20, -2), (45, 0), (20, 2)])


def blade(scale: float = 1.0) -> Polygon:
    """A shape without any symmetry."""
    return affinity.scale(Polygon([(0, 0), (14, 0), (14, 3), (6, 5), (3, 9), (0, 8)]), scale, scale)


def renoded(polygon: Polygon, seed: int) -> Polygon:
    """The same outline with another start, other direction and added corners on its sides."""
    random = np.random.default_rng(seed)
    ring = polygon.exterior
    marks = np.sort(
        np.append(ring.project(shapely.points(ring.coords[:-1])), random.uniform(0, ring.length, 20))
    )
    nodes = shapely.get_coordinates(shapely.line_interpolate_point(ring, marks))
    return Polygon(np.roll(nodes, random.integers(len(nodes)), axis=0)[:: random.choice([1, -1])])


def moved(polygon: Polygon, seed: int) -> Polygon:
    """The same shape elsewhere, turned, perhaps mirrored, and noded anew."""
    random = np.random.default_rng(seed)
    placed = affinity.rotate(polygon, random.uniform(0, 360), origin=(0, 0))
    if random.random() < 0.5:
        placed = affinity.scale(placed, -1, 1, origin=(0, 0))
    return renoded(affinity.translate(placed, *random.uniform(-500, 500, 2)), seed)


def test_a_sun_with_twelve_rays_has_one_group_of_twelve():
    card = box(-60, -60, 60, 60).difference(shapely.Point(0, 0).buffer(15))
    for turn in range(12):
        card = card.difference(affinity.rotate(ray(), 30 * turn, origin=(0, 0)))
    alike = [opening.alike for opening in design_of(card).openings]
    assert sorted(np.bincount(alike)[1:]) == [1, 12]


def test_a_tiling_of_triangles_has_one_group():
    up = Polygon([(0, 0), (10, 0), (5, 8.66)])
    down = Polygon([(15, 8.66), (5, 8.66), (10, 0)])
    tiles = [affinity.translate(tile, 10 * i, 0) for tile in (up, down) for i in range(15)]
    assert set(group_alike([tile.buffer(-0.8) for tile in tiles]).same_size) == {1}


def test_kites_and_darts_of_a_fivefold_tiling_make_two_groups():
    """The kite of angles 72, 72, 72, 144 and the dart of 72, 36, 216, 36 degrees (Gardner 1977)."""
    long, short = 20 * (1 + 5**0.5) / 2, 20.0

    def tile(inner: float) -> Polygon:
        side = np.radians(36)
        x, y = long * np.cos(side), long * np.sin(side)
        return Polygon([(0, 0), (x, -y), (inner, 0), (x, y)])

    kite, dart = tile(long), tile(short)
    tiles = [moved(shape, seed) for seed, shape in enumerate([kite, dart] * 10)]
    assert group_alike(tiles).same_size == (1, 2) * 10


@settings(max_examples=150)
@given(
    kind=st.sampled_from(KINDS),
    shape=st.integers(0, 10_000),
    seed=st.integers(0, 10_000),
    size=st.sampled_from([1.0, 8.0, 40.0]),
)
def test_a_shape_is_alike_to_itself_turned_mirrored_and_noded_anew(kind, shape, seed, size):
    original = affinity.scale(kind(np.random.default_rng(shape)), size, size)
    assert group_alike([original, moved(original, seed)]).same_size == (1, 1)


@settings(max_examples=60)
@given(seed=st.integers(0, 10_000), scale=st.floats(0.2, 8))
def test_a_shape_scaled_is_the_same_shape_at_another_size(seed, scale):
    groups = group_alike([blade(2), moved(blade(2 * scale), seed)])
    assert groups.any_size == (1, 1)
    if not 0.97 < scale < 1.03:
        assert groups.same_size == (1, 2)


@pytest.mark.parametrize(("off", "groups"), [(0.2, (1, 1)), (0.4, (1, 2))])
def test_openings_match_up_to_three_tenths_of_a_millimetre(off, groups):
    assert group_alike([box(0, 0, 40, 30), box(0, 0, 40, 30 + 2 * off)]).same_size == groups


def test_a_square_with_a_notch_is_not_alike_to_a_square():
    square = box(0, 0, 40, 40)
    assert group_alike([square, square.difference(box(19, 0, 21, 1))]).same_size == (1, 2)


def test_a_square_with_a_notch_matches_itself_in_every_turn():
    notched = box(0, 0, 40, 40).difference(box(30, 0, 32, 1))
    turned = [affinity.rotate(notched, 90 * turn) for turn in range(4)]
    flipped = [affinity.scale(square, -1, 1) for square in turned]
    assert set(group_alike(turned + flipped).same_size) == {1}


@settings(max_examples=40)
@given(seed=st.integers(0, 10_000))
def test_outlines_traced_with_a_shaky_hand_are_alike(seed):
    random = np.random.default_rng(seed)
    traced = renoded(moved(blade(4), seed), seed + 1)
    nodes = shapely.get_coordinates(traced.exterior)[:-1]
    shaken = Polygon(nodes + random.uniform(-0.1, 0.1, nodes.shape))
    assume(shaken.is_valid)
    assert group_alike([blade(4), shaken]).same_size == (1, 1)


def test_tiny_openings_must_match_in_proportion():
    disc = shapely.Point(0, 0).buffer(1)
    assert group_alike([disc, box(-0.89, -0.89, 0.89, 0.89)]).same_size == (1, 2)


def test_groups_are_numbered_by_their_first_opening():
    assert group_alike([blade(3), box(0, 0, 9, 9), moved(blade(3), 1), box(0, 0, 9, 9)]).same_size == (
        1,
        2,
        1,
        2,
    )


def test_no_openings_make_no_groups():
    assert group_alike([]).same_size == ()
