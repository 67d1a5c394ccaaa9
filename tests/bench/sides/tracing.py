"""Tracing: a photo of 12 megapixels of a panel with some 150 openings, in uneven light and with grain."""

from collections.abc import Iterator

import numpy as np
from figure import Figure, seconds

from peekpaper.tracing.choices import TracingChoices
from peekpaper.tracing.field import Pixels
from peekpaper.tracing.seen import Looking
from peekpaper.tracing.trace import Tracing, trace

WIDTH, HEIGHT = 4000, 3000
CORNERS = ((180.0, 140.0), (3850.0, 220.0), (3760.0, 2880.0), (240.0, 2790.0))
WAVE_PX = 230


def figures() -> Iterator[Figure]:
    picture = photo()
    choices = TracingChoices(corners=CORNERS, width_mm=280, height_mm=200)
    taken, tracing = seconds(lambda: traced(picture, choices), repeats=1)
    curves = sum(len(outline.cubics) for outline in tracing.outlines)
    note = f"{len(tracing.outlines)} outlines of {curves} lines and curves"
    yield Figure("trace a photo of 12 megapixels", taken, "s", None, 4.0, note)
    copy = np.ascontiguousarray(picture[::6, ::6])
    small = TracingChoices(card=tracing.card)
    looking = Looking(copy)
    taken, _ = seconds(lambda: looking.seen(small), repeats=1)
    yield Figure("look at its small copy", taken)
    taken, _ = seconds(lambda: looking.seen(TracingChoices(card=tracing.card, threshold=0.4)))
    yield Figure("look again by another threshold", taken)


def traced(picture: Pixels, choices: TracingChoices) -> Tracing:
    """Return the tracing of a picture."""
    *_, found = trace(picture, choices)
    assert found is not None
    return found


def photo() -> Pixels:
    """Return the photo: openings where two waves meet, light that fades to the right, noise of a sensor."""
    chance = np.random.default_rng(1)
    picture = np.full((HEIGHT, WIDTH, 4), 255, dtype=np.uint8)
    across = np.sin(np.arange(WIDTH, dtype=np.float32) * np.float32(np.pi / WAVE_PX))
    for row in range(HEIGHT):
        down = np.float32(np.sin(row * np.pi / WAVE_PX))
        share = np.clip((np.abs(across * down) - 0.35) * 40 + 0.5, 0, 1)
        light = np.linspace(1.0, 0.55, WIDTH, dtype=np.float32)
        grain = chance.normal(0, 4, WIDTH).astype(np.float32)
        picture[row, :, :3] = np.clip((45 + 175 * share) * light + grain, 0, 255)[:, None]
    return picture
