"""Photos of left-overs beside a card, made by the pin-hole camera's own law with known outlines."""

import math
from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from peekpaper.geometry.projective import projection

Corner = tuple[float, float]
CARD_MM = (85.6, 53.98)
CARD_RADIUS_MM = 3.18
"""Of the corners of a card of size ID-1 (ISO/IEC 7810: 2.88 to 3.48)."""
TABLE_MM = (240.0, 180.0)
FINER = 2
"""How many samples a px is averaged from along each side."""


def card_at(x: float, y: float, turn_deg: float) -> Polygon:
    """Return a card with its upper left corner there, in mm of the table."""
    r = CARD_RADIUS_MM
    card = shapely.box(r, r, CARD_MM[0] - r, CARD_MM[1] - r).buffer(r, quad_segs=32)
    return shapely.affinity.translate(shapely.affinity.rotate(card, turn_deg, origin=(0, 0)), x, y)


def photo_of(
    scrap: Polygon,
    card: Polygon,
    seen: Sequence[Corner],
    size: tuple[int, int],
    pattern: bool = False,
    seed: int = 1,
) -> NDArray[np.uint8]:
    """Return an RGBA photo (width, height in px) of the table, whose corners are seen there.

    The light falls off across the table, every px has grain, and px at edges are mixed as light mixes.
    """
    width, height = size
    matrix = projection(seen, [(0, 0), (TABLE_MM[0], 0), TABLE_MM, (0, TABLE_MM[1])])
    chance = np.random.default_rng(seed)
    y, x = np.mgrid[0 : height * FINER, 0 : width * FINER]
    # Samples strewn within their squares favour no side of an edge.
    x, y = ((at + chance.random(at.shape)) / FINER for at in (x, y))
    u, v, w = (row[0] * x + row[1] * y + row[2] for row in matrix)
    u, v = u / w, v / w
    ground, white, paper = np.array([52, 60, 58]), np.array([226, 224, 218]), np.array([196, 108, 84])
    seen_px = np.broadcast_to(ground, (*u.shape, 3)).astype(np.float32)
    for area, colour in ((card, white), (scrap, paper)):
        shapely.prepare(area)
        left, top, right, bottom = area.bounds
        inside = (u > left) & (u < right) & (v > top) & (v < bottom)
        inside[inside] = shapely.contains_xy(area, u[inside], v[inside])
        seen_px[inside] = colour
        if area is scrap and pattern:
            dots = inside & (np.hypot((u + 3) % 12 - 6, (v + 2) % 12 - 6) < 2.5)
            seen_px[dots] = (236, 214, 150)
    light = (0.82 + 0.25 * (u / TABLE_MM[0]))[..., None]
    mixed = (seen_px * light).reshape(height, FINER, width, FINER, 3).mean(axis=(1, 3))
    grainy = mixed + chance.normal(0, 2.5, mixed.shape)
    photo = np.full((height, width, 4), 255, np.uint8)
    photo[..., :3] = np.clip(np.rint(grainy), 0, 255).astype(np.uint8)
    return photo


def torn(centre: Corner, radius: float, seed: int) -> Polygon:
    """Return a left-over of no regular shape, in mm."""
    chance = np.random.default_rng(seed)
    angles = np.linspace(0, 2 * math.pi, 24, endpoint=False)
    reach = radius * (0.65 + 0.35 * chance.random(24))
    return Polygon(
        [
            (centre[0] + r * math.cos(a), centre[1] + 0.8 * r * math.sin(a))
            for a, r in zip(angles, reach, strict=True)
        ]
    )
