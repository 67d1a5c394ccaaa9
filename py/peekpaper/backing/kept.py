"""What the steps of a backing gave last, so that moving one control makes only what lies behind it."""

from collections.abc import Hashable, Mapping
from dataclasses import dataclass, field

from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.backing.finish import FinishedPiece
from peekpaper.backing.lips import Lip
from peekpaper.backing.outlines.fitted import Fitted
from peekpaper.backing.reuse import Last
from peekpaper.backing.smallest import Closest
from peekpaper.backing.zones.borders import Crossings
from peekpaper.backing.zones.sites import Sites


@dataclass(slots=True, eq=False)
class BackingBench:
    """Keeps what the steps gave last, and what is made piece by piece by what it was made from.

    The caller holds it, one for each design that is worked on, and hands it in with each call.
    """

    outline: Last[Polygon | MultiPolygon] = field(default_factory=Last)
    closest: Last[Closest] = field(default_factory=Last)
    sites: Last[Sites] = field(default_factory=Last)
    zones: Last[Mapping[int, Polygon | MultiPolygon]] = field(default_factory=Last)
    rooms: Last[Mapping[int, Polygon | MultiPolygon]] = field(default_factory=Last)
    crossings: Crossings = field(default_factory=Crossings)
    drawn_in: dict[Hashable, BaseGeometry] = field(default_factory=dict)
    fitted: dict[Hashable, Fitted] = field(default_factory=dict)
    fitted_lips: dict[Hashable, Lip] = field(default_factory=dict)
    pieces: dict[Hashable, FinishedPiece] = field(default_factory=dict)
