"""What tracing will take for the card, told at once on a small copy while a person chooses."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from peekpaper.refusal import Refusal
from peekpaper.tracing.choices import Card, TracingChoices
from peekpaper.tracing.contours import zero_rings
from peekpaper.tracing.field import Pixels, Strength, strength_of
from peekpaper.tracing.trace import kept_rings, sheet_of


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """Which px are card (bool, as large as the picture), and what would come of that.

    `openings` counts holes in the card, `parts` pieces of card, `dropped` specks and pinholes.
    """

    is_card: NDArray[np.bool_]
    card: Card
    threshold: float
    openings: int
    parts: int
    dropped: int


class Looking:
    """A small copy of a picture, looked at again and again with other choices; what holds on is kept."""

    def __init__(self, picture: Pixels) -> None:
        self._picture = picture
        self._last: tuple[object, Strength] | None = None

    def seen(self, choices: TracingChoices) -> Seen:
        """Return what choices make of the picture.

        Raises Refusal for a picture that shows no card, and corners about no sheet.
        """
        height, width = self._picture.shape[:2]
        sheet = sheet_of(choices, width, height)
        strength = self._strength(choices)
        field = strength.field(choices.threshold)
        rings = zero_rings(field.values)
        try:
            kept = kept_rings(rings, choices, sheet, width, height)
        except Refusal:
            counts = (0, 0, len(rings.heads))
        else:
            outer = kept.areas() > 0
            counts = (int((~outer).sum()), int(outer.sum()), len(rings.heads) - len(kept.heads))
        return Seen(field.values[1:-1, 1:-1] > 0, field.card, field.threshold, *counts)

    def _strength(self, choices: TracingChoices) -> Strength:
        key = (choices.card, choices.colour, choices.corners)
        if self._last is None or self._last[0] != key:
            self._last = (key, strength_of(self._picture, choices))
        return self._last[1]
