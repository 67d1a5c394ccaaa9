"""A picture as a field of values: above 0 where the card is, below it elsewhere."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from peekpaper.refusal import Refusal
from peekpaper.tracing.choices import Card, Corner, TracingChoices
from peekpaper.tracing.colours import differences
from peekpaper.tracing.contours import zero_rings
from peekpaper.tracing.light import Grey, Light, light_over, split

Pixels = NDArray[np.uint8]

_ROWS_AT_ONCE = 128
"""What is made on the way is made for so many rows at once: it takes little memory."""
_LUMA = (54, 183, 19)
"""Shares of red, green and blue in 256 parts of brightness (ITU-R BT.709)."""
_LEAST_CONTRAST = 10.0
"""Sides whose brightness differs by less, of 255, are no card and holes but paper and its grain."""
_SEE_THROUGH = 0.02
"""A picture of which this share is see-through shows by that what the card is."""
_RIM, _MOSTLY, _LARGE = 0.02, 0.9, 0.3
"""The outermost share of a picture that tells what lies around the card; how much of that must be dark where
it lies on dark; and how much of a picture a card takes up that no opening does."""


@dataclass(frozen=True, slots=True, eq=False)
class Field:
    """How far each px lies on the card's side, with one px more all around, below 0.

    `card` is what was taken for the card, `threshold` the share of it that parts the sides.
    """

    values: NDArray[np.float32]
    card: Card
    threshold: float


@dataclass(frozen=True, slots=True, eq=False)
class Strength:
    """How strongly each px shows the card, whatever the threshold.

    `values` (height, width) are evened; `low` and `high` are what holes and card have for the most part.
    `within` is how far px lie inside the marked sheet, in px; None where the whole picture is taken.
    """

    values: Grey
    low: float
    high: float
    card: Card
    within: Grey | None

    def field(self, threshold: float | None) -> Field:
        """Return the field that `threshold`, from 0 to 1, makes of it; None lies halfway."""
        share = 0.5 if threshold is None else min(max(threshold, 0.02), 0.98)
        height, width = self.values.shape
        field = np.empty((height + 2, width + 2), dtype=np.float32)
        inner = field[1:-1, 1:-1]
        np.subtract(self.values, self.low + share * (self.high - self.low), out=inner)
        if self.within is not None:
            np.minimum(inner, self.within * (self.high - self.low), out=inner)
        _softened(inner)
        # The card ends where the picture does: halfway to the px around it.
        field[0], field[-1] = -np.abs(field[1]), -np.abs(field[-2])
        field[:, 0], field[:, -1] = -np.abs(field[:, 1]), -np.abs(field[:, -2])
        field[:: field.shape[0] - 1, :: field.shape[1] - 1] = -1.0
        return Field(field, self.card, share)


def strength_of(picture: Pixels, choices: TracingChoices) -> Strength:
    """Return how strongly each px of an RGBA picture shows the card.

    Raises Refusal for a picture of one tone.
    """
    within = None if choices.corners is None else _depth(choices.corners, *picture.shape[:2])
    inside = np.ones(picture.shape[:2], dtype=bool) if within is None else within > 0
    card = choices.card
    if card is None and _is_see_through(picture, inside):
        card = Card.OPAQUE
    if card is Card.OPAQUE:
        values = picture[..., 3].astype(np.float32)
    elif card is Card.COLOUR:
        values = differences(picture, choices.colour)
        np.negative(values, out=values)
    else:
        values = _grey(picture)
        light = light_over(values, inside)
        if not light.is_even:
            _even(values, light)
        if card is None:
            card = _likely_card(values, inside)
        if card is Card.DARK:
            np.negative(values, out=values)
    low, high = _sides(values, inside)
    if high - low < _LEAST_CONTRAST:
        raise Refusal("picture-of-one-tone")
    return Strength(values, low, high, card, within)


def _bands(height: int) -> Iterator[slice]:
    for top in range(0, height, _ROWS_AT_ONCE):
        yield slice(top, min(top + _ROWS_AT_ONCE, height))


def _grey(picture: Pixels) -> Grey:
    """Return the brightness of px, 0 to 255; what is see-through lies on white."""
    grey = np.empty(picture.shape[:2], dtype=np.float32)
    see_through = bool((picture[..., 3] < 255).any())
    for rows in _bands(len(grey)):
        red, green, blue, cover = (picture[rows, :, channel].astype(np.uint16) for channel in range(4))
        total = red * _LUMA[0] + green * _LUMA[1] + blue * _LUMA[2]
        np.multiply(total, np.float32(1 / 256), out=grey[rows])
        if see_through:
            grey[rows] = 255 - (255 - grey[rows]) * (cover.astype(np.float32) / 255)
    return grey


def _even(grey: Grey, light: Light) -> None:
    height, width = grey.shape
    for rows in _bands(height):
        grey[rows] /= light.over(rows, height, width)


def _softened(field: NDArray[np.float32]) -> None:
    """Weight each value with its neighbours by 1, 2, 1, down and across: no grain, and no steps at edges."""
    before = field[:1].copy()
    for rows in _bands(len(field)):
        following = field[rows.stop : rows.stop + 1] if rows.stop < len(field) else field[-1:]
        high = np.concatenate([before, field[rows], following])
        before = field[rows.stop - 1 : rows.stop].copy()
        down = high[:-2] + high[2:]
        down += high[1:-1]
        down += high[1:-1]
        across = field[rows]
        np.multiply(down, 2, out=across)
        across[:, 1:] += down[:, :-1]
        across[:, 0] += down[:, 0]
        across[:, :-1] += down[:, 1:]
        across[:, -1] += down[:, -1]
        across /= 16


def _depth(corners: Sequence[Corner], height: int, width: int) -> Grey:
    """Return how far inside four corners the middles of px lie, in px, at most 1 to either side."""
    depth = np.ones((height, width), dtype=np.float32)
    x, y = np.arange(width, dtype=np.float32) + 0.5, np.arange(height, dtype=np.float32)[:, None] + 0.5
    for (x0, y0), (x1, y1) in zip(corners, (*corners[1:], corners[0]), strict=True):
        length = float(np.hypot(x1 - x0, y1 - y0)) or 1.0
        across, down = (y0 - y1) / length, (x1 - x0) / length
        for rows in _bands(height):
            np.minimum(depth[rows], (x - x0) * across + (y[rows] - y0) * down, out=depth[rows])
    return np.maximum(depth, -1.0, out=depth)


def _is_see_through(picture: Pixels, inside: NDArray[np.bool_]) -> bool:
    step = _sparing(picture.shape[:2])
    cover = picture[::step, ::step, 3][inside[::step, ::step]]
    return bool(np.mean(cover < 128) > _SEE_THROUGH and np.mean(cover >= 128) > _SEE_THROUGH / 4)


def _likely_card(grey: Grey, inside: NDArray[np.bool_]) -> Card:
    """Return which side the card is: the dark one, unless one large light thing lies on a dark ground."""
    if not inside[0, 0]:
        return Card.DARK
    middle = sum(_sides(grey, inside)) / 2
    step = _sparing(grey.shape)
    light = np.pad(grey[::step, ::step] - np.float32(middle), 1, constant_values=-1.0)
    margin = max(1, round(_RIM * min(light.shape)))
    rims = (
        light[1 : margin + 1],
        light[-margin - 1 : -1],
        light[:, 1 : margin + 1],
        light[:, -margin - 1 : -1],
    )
    if min(np.mean(rim < 0) for rim in rims) < _MOSTLY:
        return Card.DARK
    largest = max(zero_rings(light).areas(), default=0.0)
    return Card.LIGHT if largest > _LARGE * light.size else Card.DARK


def _sides(values: Grey, inside: NDArray[np.bool_]) -> tuple[float, float]:
    """Return what most px on the two sides of the best split have."""
    step = _sparing(values.shape)
    sample = values[step // 2 :: step, step // 2 :: step][inside[step // 2 :: step, step // 2 :: step]]
    if not len(sample):
        raise Refusal("picture-of-one-tone")
    middle = split(sample, float(sample.min()), float(sample.max()))
    above = sample > middle
    if above.all() or not above.any():
        return middle, middle
    return float(np.median(sample[~above])), float(np.median(sample[above]))


def _sparing(shape: tuple[int, ...]) -> int:
    """Return every how many px a picture is looked at where some 500,000 of them do."""
    return max(1, int(np.sqrt(shape[0] * shape[1] / 5e5)))
