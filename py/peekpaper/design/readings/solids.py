"""Filled solids: all ink is card."""

import numpy as np
import shapely

from peekpaper.design.content import Content, as_area
from peekpaper.design.readings.card_ink import CardInk


def read_solids(content: Content) -> CardInk:
    """Return the union of all paint as the card."""
    return CardInk(
        as_area(shapely.union_all(np.array([paint.area for paint in content.painted], dtype=object)))
    )
