"""What the steps of a backing gave last, so that moving one control makes only what lies behind it."""

from collections.abc import Callable, Hashable, Mapping
from dataclasses import dataclass, field
from typing import Generic, TypeVar

from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.backing.finish import FinishedPiece
from peekpaper.backing.sites import Sites

Value = TypeVar("Value")


class Last(Generic[Value]):
    """The value that a step gave last, with what went into it."""

    def __init__(self) -> None:
        self._inputs: tuple[object, ...] | None = None
        self._value: Value

    def get(self, inputs: tuple[object, ...], make: Callable[[], Value]) -> Value:
        """Return the last value if the inputs are equal to the last ones, else make and keep a new one."""
        if self._inputs != inputs:
            self._value = make()
            self._inputs = inputs
        return self._value


@dataclass(slots=True, eq=False)
class BackingBench:
    """Keeps what the steps gave last, and each zone drawn in and each piece by what it was made from.

    The caller holds it, one for each design that is worked on, and hands it in with each call.
    """

    outline: Last[Polygon | MultiPolygon] = field(default_factory=Last)
    sites: Last[Sites] = field(default_factory=Last)
    zones: Last[Mapping[int, Polygon | MultiPolygon]] = field(default_factory=Last)
    rooms: Last[Mapping[int, Polygon | MultiPolygon]] = field(default_factory=Last)
    drawn_in: dict[Hashable, BaseGeometry] = field(default_factory=dict)
    pieces: dict[Hashable, FinishedPiece] = field(default_factory=dict)
