"""A motif: openings that belong together in the picture, such as those of one flower, letter or ring."""

from dataclasses import dataclass

from peekpaper.bounds import Many, Name, Number


@dataclass(frozen=True, slots=True)
class Motif:
    """Openings by number, in order, and what the person calls them; "" where nobody named them."""

    name: Name = ""
    openings: Many[Number] = ()
