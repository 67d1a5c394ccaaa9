"""Which turns a pattern bears, guessed from drawn patterns."""

from collections.abc import Callable

import numpy as np
import pytest
from PIL import Image, ImageDraw

from peekpaper.papers.paper import Direction
from peekpaper.papers.pattern_direction import guessed_direction

Drawn = Callable[[ImageDraw.ImageDraw, int, int], None]
INK = (120, 40, 60)
TREE = ((16, 0), (30, 26), (19, 26), (19, 34), (13, 34), (13, 26), (2, 26))
HEART = tuple(
    (16 + 16 * np.sin(t) ** 3, 14 - (13 * np.cos(t) - 5 * np.cos(2 * t) - 2 * np.cos(3 * t) - np.cos(4 * t)))
    for t in np.linspace(0, 2 * np.pi, 60)
)


def repeated(draw: Drawn, side: int = 512, step: int = 44) -> Image.Image:
    """A motif all over a pale sheet."""
    sheet = Image.new("RGB", (side, side), (240, 230, 210))
    for y in range(0, side, step):
        for x in range(0, side, step):
            draw(ImageDraw.Draw(sheet), x, y)
    return sheet


def shape(points: tuple[tuple[float, float], ...]) -> Drawn:
    return lambda draw, x, y: draw.polygon([(x + a, y + b) for a, b in points], fill=INK)


PATTERNS = {
    "dots": (repeated(lambda draw, x, y: draw.ellipse((x, y, x + 24, y + 24), fill=INK)), 4),
    "squares": (repeated(lambda draw, x, y: draw.rectangle((x, y, x + 24, y + 24), fill=INK)), 4),
    "plain": (Image.new("RGB", (512, 512), INK), 4),
    "stripes": (repeated(lambda draw, x, _: draw.rectangle((x, 0, x + 20, 512), fill=INK)), 2),
    "hearts": (repeated(shape(HEART)), 1),
    "trees": (repeated(shape(TREE)), 1),
}
MEANS = {4: Direction.ANY, 2: Direction.TWO_WAY, 1: Direction.ONE_WAY}


@pytest.mark.parametrize("name", PATTERNS)
@pytest.mark.parametrize("quarter_turns", [0, 1, 2])
def test_a_pattern_bears_the_turns_that_leave_it_as_it_is(name: str, quarter_turns: int) -> None:
    sheet, turns = PATTERNS[name]
    picture = np.rot90(np.asarray(sheet.convert("RGBA")), quarter_turns)
    assert guessed_direction(picture) is MEANS[turns]


def test_grain_and_uneven_light_make_no_direction_and_tiny_pictures_have_none() -> None:
    chance = np.random.default_rng(1)
    light = np.linspace(200, 220, 300)[None, :, None] + chance.normal(0, 3, (200, 300, 4))
    assert guessed_direction(light.astype(np.uint8)) is Direction.ANY
    assert guessed_direction(np.full((1, 2, 4), 9, np.uint8)) is Direction.ANY
