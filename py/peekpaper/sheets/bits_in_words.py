"""Loose bits as the sheets name them."""

from collections.abc import Sequence

from peekpaper.design.design import LooseBit


def bits_in_words(bits: Sequence[LooseBit]) -> str:
    """Return loose bits, numbered through from the first, by name: "L1 to L12"."""
    return bits[0].name if len(bits) == 1 else f"{bits[0].name} to {bits[-1].name}"
