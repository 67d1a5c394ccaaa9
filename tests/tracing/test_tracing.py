"""Pictures of a known panel come back as that panel: its openings, edges, corners and size."""

import json

import numpy as np
import pytest
from pictured_panel import apart, card_of, drawn, panel_card, photographed, traced

from peekpaper.desk.desk import Desk
from peekpaper.pipeline import Pipeline
from peekpaper.project.document import new_project
from peekpaper.refusal import Refusal
from peekpaper.tracing.choices import Card, TracingChoices
from peekpaper.tracing.seen import Looking
from peekpaper.tracing.trace import svg_of

SPECKS = '<circle cx="25" cy="35" r=".2"/><circle cx="5" cy="20" r=".2" fill="#fff"/>'


@pytest.mark.parametrize(("dpi", "most_mm"), [(150, 0.16), (300, 0.08), (600, 0.05)])
def test_a_drawing_comes_back_within_a_px(dpi, most_mm):
    card = card_of(traced(drawn(dpi), TracingChoices()))
    assert len(card.interiors) == 4
    assert apart(card) < most_mm


def test_it_has_no_more_nodes_than_it_needs_and_its_straight_edges_are_lines():
    outlines = traced(drawn(), TracingChoices()).outlines
    assert sorted(len(outline.straight) for outline in outlines)[:3] == [3, 4, 4]
    assert sum(bool(outline.straight.all()) for outline in outlines) == 3
    # The file has 3 + 4 + 4 lines, 4 quarter circles and 2 curves.
    assert sum(len(outline.straight) for outline in outlines) <= 1.5 * 17


def test_corners_are_as_sharp_as_they_were_drawn():
    (triangle,) = [
        outline for outline in traced(drawn(), TracingChoices()).outlines if len(outline.straight) == 3
    ]
    found = sorted((triangle.cubics[:, 0] / (300 / 25.4)).tolist())
    assert np.abs(np.array(found) - [(10, 33), (16, 22), (22, 33)]).max() < 0.06


@pytest.mark.parametrize(
    ("picture", "card"),
    [
        (drawn(150), Card.DARK),
        (drawn(150, "#f4efe6", "#252a30"), Card.LIGHT),
        (drawn(150, "#ffffff", None), Card.OPAQUE),
    ],
)
def test_which_side_the_card_is_shows_by_what_lies_around_it(picture, card):
    found = traced(picture, TracingChoices())
    assert found.card is card
    assert apart(card_of(found)) < 0.2


def test_the_card_may_be_one_colour_among_others_as_dark():
    picture = drawn(150, "#a03020", "#fff", '<path d="M46 9H52V15H46Z" fill="#2050a0"/>')
    found = traced(picture, TracingChoices(card=Card.COLOUR, colour="#a03020"))
    assert len(card_of(found).interiors) == 5
    assert len(card_of(traced(picture, TracingChoices(card=Card.DARK))).interiors) == 4


def test_specks_and_pinholes_are_dropped_and_counted():
    found = traced(drawn(extra=SPECKS), TracingChoices(width_mm=60))
    assert (len(found.outlines), found.dropped) == (5, 1)
    # A dot of ink on ink is nothing; of a finer wish the pinhole stays.
    assert len(traced(drawn(extra=SPECKS), TracingChoices(width_mm=60, speck_mm=0.2)).outlines) == 6


def test_a_photo_seen_askew_in_fading_light_comes_back_upright_and_at_size():
    corners = ((110.0, 90.0), (840.0, 60.0), (800.0, 590.0), (60.0, 520.0))
    photo = photographed(drawn(), corners, (920, 660))
    found = traced(photo, TracingChoices(corners=corners, width_mm=60, height_mm=40))
    card = card_of(found)
    assert len(card.interiors) == 4
    assert apart(card) < 0.2
    assert abs(card.area - panel_card().area) < 0.01 * card.area


def test_what_is_seen_before_agrees_with_what_is_traced():
    picture = drawn(150, extra=SPECKS)
    seen = Looking(picture).seen(TracingChoices(width_mm=60))
    assert (seen.openings, seen.parts, seen.card) == (4, 1, Card.DARK)
    assert abs(seen.is_card.mean() - panel_card().area / 2400) < 0.01


def test_a_higher_threshold_takes_less_for_card():
    looking = Looking(drawn(150))
    shares = [looking.seen(TracingChoices(threshold=share)).is_card.mean() for share in (0.1, 0.5, 0.9)]
    assert shares == sorted(shares, reverse=True)
    assert shares[0] > shares[-1]


def test_the_file_reads_as_the_card_at_true_size():
    design = Pipeline().design(new_project("panel.png", svg_of(traced(drawn(), TracingChoices(width_mm=60)))))
    assert len(design.openings) == 4
    assert not design.size_is_a_guess
    assert design.width_mm == pytest.approx(54, abs=0.05)


@pytest.mark.parametrize(
    "picture",
    [
        np.full((1, 1, 4), 255, np.uint8),
        np.full((300, 400, 4), 255, np.uint8),
        np.zeros((300, 400, 4), np.uint8),
        np.full((3, 5000, 4), 200, np.uint8),
    ],
)
def test_a_picture_of_one_tone_is_refused(picture):
    with pytest.raises(Refusal, match="no card"):
        traced(picture, TracingChoices())


def test_grain_alone_is_refused_in_words():
    grain = np.random.default_rng(1).integers(0, 256, (650, 650, 4), dtype=np.uint8)
    grain[..., 3] = 255
    with pytest.raises(Refusal):
        traced(grain, TracingChoices(speck_mm=0.01, width_mm=2000))


@pytest.mark.parametrize(
    "corners",
    [
        ((0.0, 0.0), (100.0, 0.0), (50.0, 0.0), (0.0, 100.0)),
        ((0.0, 0.0), (100.0, 100.0), (100.0, 0.0), (0.0, 100.0)),
        ((0.0, 0.0), (float("nan"), 0.0), (100.0, 100.0), (0.0, 100.0)),
    ],
)
def test_corners_about_no_sheet_are_refused(corners):
    with pytest.raises(Refusal):
        traced(drawn(100), TracingChoices(corners=corners, width_mm=60, height_mm=40))


def test_the_desk_shows_what_is_card_and_hands_over_the_file():
    picture = drawn(100)
    height, width = picture.shape[:2]
    whole = {"card": None, "colour": "#000000", "threshold": None, "corners": None}
    choices = {**whole, "width_mm": 60, "height_mm": None, "speck_mm": 0.6}
    arguments = {
        "pixels": {"buffer": 0},
        "width": width,
        "height": height,
        "copy_width": 200,
        "choices": choices,
    }
    (seen,) = Desk().steps("look_at_picture", json.dumps(arguments), [picture.tobytes()])
    assert json.loads(seen.json)["openings"] == 4
    assert len(seen.buffers[0]) == width * height
    corners = [[10, 10], [190, 10], [190, 123], [10, 123]]
    arguments["choices"] = {**choices, "corners": corners, "width_mm": 54, "height_mm": 34}
    *progress, last = Desk().steps("trace_picture", json.dumps(arguments), [picture.tobytes()])
    assert [json.loads(each.json)["done"] for each in progress] == [1, 2, 3, 4]
    assert 'width="54mm" height="34mm"' in json.loads(last.json)["svg"]
