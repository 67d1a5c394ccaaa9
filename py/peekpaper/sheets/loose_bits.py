"""Loose bits as the sheets name and draw them."""

from collections.abc import Sequence

from shapely import Polygon

from peekpaper.design.design import LooseBit


def bits_in_words(bits: Sequence[LooseBit]) -> str:
    """Return loose bits, numbered through from the first, by name: "L1 to L12"."""
    return bits[0].name if len(bits) == 1 else f"{bits[0].name} to {bits[-1].name}"


def outermost_first(bits: Sequence[LooseBit]) -> list[LooseBit]:
    """Return loose bits in an order to draw them: each before those that lie in its holes."""
    return sorted(bits, key=lambda bit: Polygon(bit.area.exterior).area, reverse=True)
