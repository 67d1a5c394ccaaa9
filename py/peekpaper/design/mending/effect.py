"""What mends would change on a design as it is."""

from collections.abc import Sequence
from dataclasses import dataclass

from shapely import MultiPolygon

from peekpaper.design.design import Design
from peekpaper.design.mending.apply import apply_mends
from peekpaper.design.mending.mends import Change, Mend
from peekpaper.design.parts import Parts, split_parts
from peekpaper.design.placing import Placing
from peekpaper.geometry.areas import as_area
from peekpaper.geometry.overlay import difference


@dataclass(frozen=True, slots=True)
class Effect:
    """Card added and taken away in mm, and the parts of the card afterwards."""

    added: MultiPolygon
    removed: MultiPolygon
    after: Parts

    @property
    def changed_mm2(self) -> float:
        """The area that is different afterwards."""
        return self.added.area + self.removed.area


def placing_of(design: Design) -> Placing:
    """Return the placing of a design's drawing."""
    return Placing(design.mm_per_px, *design.origin_px)


def whole_card(design: Design) -> MultiPolygon:
    """Return all card of a design, held or loose."""
    return MultiPolygon([*design.card.geoms, *(bit.area for bit in design.loose_bits)])


def effect_of(design: Design, changes: Sequence[Change]) -> Effect:
    """Return what changes do to a design as it is, mended so far."""
    before = whole_card(design)
    mends = [Mend(str(place), change) for place, change in enumerate(changes)]
    after = apply_mends(before, mends, placing_of(design)).area
    return Effect(as_area(difference(after, before)), as_area(difference(before, after)), split_parts(after))
