import pytest
import shapely
from cards import backed, card_with, one_paper, panes
from english import english
from shapely import affinity

from peekpaper.backing.backing import BackingChoices
from peekpaper.backing.make import make_backing
from peekpaper.backing.simple.punches import Form, SimpleShape, parse_shape, shape_name
from peekpaper.refusal import Refusal


def offers(backing) -> dict[str, str]:
    return {offer.name: english(offer.message) for offer in backing.offers}


def test_a_square_pane_is_offered_the_smallest_square_punch_that_covers_it() -> None:
    # 20 mm and twice the least lip of 0.8 mm are 21.6 mm; 1 in is 25.4 mm, 3/4 in only 19.05 mm.
    found = offers(backed(card_with(shapely.box(0, 0, 20, 20))))
    assert found["square 1 in"] == "A 1 in square punch covers this one."
    assert "square 1 1/4 in" not in found


def test_a_turned_pane_is_offered_a_turned_punch() -> None:
    pane = affinity.rotate(shapely.box(0, 0, 20, 20), 33)
    backing = backed(card_with(pane, rim=10))
    offer = next(offer for offer in backing.offers if offer.name == "square 1 in")
    assert offer.outline.covers(pane.buffer(0.8, join_style="mitre").buffer(-1e-6)) or offer.outline.area == (
        pytest.approx(25.4**2)
    )


def test_an_offer_covers_with_the_least_lip_and_stays_inside() -> None:
    design = card_with(*panes((20, 12, 30), (8, 8)), rim=9)
    choices = BackingChoices()
    for offer in backed(design, choices).offers:
        opening = design.openings[offer.piece - 1].area
        assert offer.outline.covers(opening)
        assert offer.outline.exterior.distance(opening) >= choices.least_lip_mm - 1e-6
        others = [other.area for other in design.openings if other.number != offer.piece]
        assert min(offer.outline.distance(other) for other in others) > 0


def test_no_punch_is_offered_where_a_neighbour_is_too_near() -> None:
    # Two least lips and the gap need 2 mm.
    assert offers(backed(card_with(*panes((20, 20), (1.9,), height=20)))) == {}


def test_a_punch_shifted_off_a_near_neighbour_is_found() -> None:
    # 24 mm wide: the punch of 25.4 mm leaves 1.4 mm, of which the narrow bar takes no more than 0.8.
    near = card_with(*panes((23.6, 23.6), (2.1,), height=23.6))
    assert "square 1 in" in offers(backed(near, BackingChoices(least_lip_mm=0.5)))


def test_a_plain_rectangle_is_offered_in_eighths_of_an_inch() -> None:
    assert "rectangle 2 x 1 in" in offers(backed(card_with(shapely.box(0, 0, 48, 23), rim=10)))


def test_a_plain_rectangle_is_offered_in_steps_of_5_mm_too() -> None:
    found = backed(card_with(shapely.box(0, 0, 48, 23), rim=10)).offers
    assert {offer.cut_in: offer.name for offer in found} == {
        "in": "rectangle 2 x 1 in",
        "mm": "rectangle 50 x 25 mm",
    }


def test_only_the_persons_own_punches_are_offered() -> None:
    choices = BackingChoices(punches=("circle 2 in",))
    names = set(offers(backed(card_with(shapely.box(0, 0, 20, 20)), choices)))
    assert names == {"circle 2 in", "rectangle 7/8 x 7/8 in", "rectangle 25 x 25 mm"}


def test_a_punch_in_millimetres_is_offered_as_what_it_is() -> None:
    choices = BackingChoices(punches=("circle 30 mm",))
    found = offers(backed(card_with(shapely.box(0, 0, 15, 15), rim=10), choices))
    assert found["circle 30 mm"] == "A 30 mm circle punch covers this one."


def test_a_shape_that_was_taken_becomes_the_piece() -> None:
    design = card_with(shapely.box(0, 0, 20, 20))
    piece = backed(design, BackingChoices(simple_shapes=((1, "square 1 in"),))).pieces[0]
    assert piece.simple_shape == "square 1 in"
    assert piece.outline.area == pytest.approx(25.4**2)
    assert piece.lip_min_mm == pytest.approx(2.7)


def test_a_shape_that_no_longer_fits_gives_way_with_a_word() -> None:
    design = card_with(shapely.box(0, 0, 20, 20))
    backing = backed(design, BackingChoices(simple_shapes=((1, "square 1/2 in"),)))
    assert backing.pieces[0].simple_shape is None
    assert "shape-does-not-fit" in [warning.code for warning in backing.warnings]


@pytest.mark.parametrize(
    ("name", "shape"),
    [
        ("square 1 in", SimpleShape(Form.SQUARE, 25.4, 25.4)),
        ("circle 3/4 in", SimpleShape(Form.CIRCLE, 19.05, 19.05)),
        ("circle 30 mm", SimpleShape(Form.CIRCLE, 30.0, 30.0)),
        ("rectangle 1 x 2 in", SimpleShape(Form.RECTANGLE, 25.4, 50.8)),
        ("rectangle 1 1/2 in x 40 mm", SimpleShape(Form.RECTANGLE, 38.1, 40.0)),
    ],
)
def test_a_punch_is_known_by_its_name(name: str, shape: SimpleShape) -> None:
    parsed = parse_shape(name)
    assert parsed.form is shape.form
    assert (parsed.width_mm, parsed.height_mm) == pytest.approx((shape.width_mm, shape.height_mm))
    assert parse_shape(shape_name(shape)).width_mm == pytest.approx(shape.width_mm)


@pytest.mark.parametrize("name", ["", "heart 1 in", "square", "square big", "rectangle 1 in", "circle 0 in"])
def test_another_word_for_a_punch_is_refused(name: str) -> None:
    with pytest.raises(Refusal):
        parse_shape(name)


def test_a_bad_punch_in_the_list_is_refused() -> None:
    design = card_with(shapely.box(0, 0, 20, 20))
    with pytest.raises(Refusal, match="punch"):
        make_backing(design, BackingChoices(punches=("hexagon 1 in",)), one_paper(design))
