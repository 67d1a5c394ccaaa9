"""Loose bits as the sheets name and draw them."""

from collections.abc import Sequence

from shapely import Polygon

from peekpaper.design.design import LooseBit
from peekpaper.words.words import Language


def bits_in_words(bits: Sequence[LooseBit], words: Language) -> str:
    """Return loose bits, numbered through from the first, by name: "L1 to L12"."""
    if len(bits) == 1:
        return bits[0].name
    return words.text("print.range", first=bits[0].name, last=bits[-1].name)


def outermost_first(bits: Sequence[LooseBit]) -> list[LooseBit]:
    """Return loose bits in an order to draw them: each before those that lie in its holes."""
    return sorted(bits, key=lambda bit: Polygon(bit.area.exterior).area, reverse=True)
