"""Pictures of the table against the design's geometry: no fonts or papers in it, so alike on all machines."""

import io

from PIL import Image, ImageChops, ImageDraw

from e2e.panels import CARD_COLOUR, HEIGHT_MM, HOLE_MM, WIDTH_MM, corner
from e2e.table import Table, of_colour

EDGE_PX = 2
TRIES = 40
MOST_WRONG = 0.01
"""Of the card's area: room for a mark or two; one opening too few is 0.05."""


def card_is_drawn(table: Table) -> bool:
    """Tell whether the window panel's card comes to be seen as its file has it: card and openings in place.

    Edges are left out, since they are blended. A card where an opening should be is wrong, and so is anything
    else where the card should be.
    """
    return any(_wrong_share(table) <= MOST_WRONG for _ in range(TRIES))


def _wrong_share(table: Table) -> float:
    left, top, right, bottom = table.card_box(CARD_COLOUR)
    whole = Image.open(io.BytesIO(table.page.screenshot()))
    picture = whole.crop((round(left), round(top), round(right), round(bottom))).convert("RGB")
    seen = of_colour(picture, CARD_COLOUR)
    wanted, certain = _card(picture.size)
    wrong = ImageChops.logical_and(ImageChops.logical_xor(seen, wanted), certain)
    return wrong.histogram()[255] / (picture.width * picture.height)


def _card(size: tuple[int, int]) -> tuple[Image.Image, Image.Image]:
    """Return where the card should be seen, and where that is certain, away from all edges."""
    wide, high = size[0] / WIDTH_MM, size[1] / HEIGHT_MM
    wanted, certain = Image.new("1", size, 1), Image.new("1", size, 0)
    card, sure = ImageDraw.Draw(wanted), ImageDraw.Draw(certain)
    sure.rectangle((EDGE_PX, EDGE_PX, size[0] - 1 - EDGE_PX, size[1] - 1 - EDGE_PX), fill=1)
    for number in range(1, 7):
        x, y = corner(number)
        hole = (x * wide, y * high, (x + HOLE_MM) * wide, (y + HOLE_MM) * high)
        card.rectangle(hole, fill=0)
        sure.rectangle(_grown(hole, EDGE_PX), fill=0)
        sure.rectangle(_grown(hole, -EDGE_PX), fill=1)
    return wanted, certain


def _grown(box: tuple[float, float, float, float], by: float) -> tuple[float, float, float, float]:
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by
