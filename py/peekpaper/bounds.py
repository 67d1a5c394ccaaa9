"""Bounds of what a document may hold, said beside the type: `Annotated[float, Within(0, 100)]`."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Within:
    """A number from `least` to `most`, both allowed."""

    least: float
    most: float


@dataclass(frozen=True, slots=True)
class Count:
    """A list of at least `least` and at most `most` items."""

    least: int
    most: int
