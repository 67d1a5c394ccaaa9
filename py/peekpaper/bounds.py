"""Bounds of what a document may hold, said beside the type: `Annotated[float, Within(0, 100)]`.

They keep a stranger's document from hurting whoever opens it, and lie far beyond what any person has use for
(common practice, no published source). What makes no sense within them is refused by the step that it is for.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, TypeAlias, TypeVar

Item = TypeVar("Item")


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


@dataclass(frozen=True, slots=True)
class Letters:
    """A text of at most `most` characters."""

    most: int


MAX_BYTES = 64 * 1024 * 1024
"""The largest file, unpacked, that is read."""
MOST_MM = 100_000.0
"""A hundred metres: a roll of paper is shorter, and all that is drawn at this size is still drawn."""

Millimetres: TypeAlias = Annotated[float, Within(-MOST_MM, MOST_MM)]
Amount: TypeAlias = Annotated[float, Within(-1e9, 1e9)]
Degrees: TypeAlias = Annotated[float, Within(-1e6, 1e6)]
Share: TypeAlias = Annotated[float, Within(-1.0, 1.0)]
Zoom: TypeAlias = Annotated[float, Within(1.0, 100.0)]
Number: TypeAlias = Annotated[int, Within(0, 1_000_000)]
"""The number of an opening, a piece, a bit or a mat."""
Whole: TypeAlias = Annotated[int, Within(-(2**53), 2**53)]
"""A whole number that the page's numbers hold exactly (IEEE 754)."""
Tag: TypeAlias = Annotated[str, Letters(100)]
"""The id of a thing, the key of a picture, a unit or a colour: no person reads it."""
MOST_NAME = 300
Name: TypeAlias = Annotated[str, Letters(MOST_NAME)]
"""What a person calls something; file systems hold names of 255 bytes."""
MOST_WRITING = 5_000
Writing: TypeAlias = Annotated[str, Letters(MOST_WRITING)]
"""What a person writes on a page: two pages of type."""
Few: TypeAlias = Annotated[tuple[Item, ...], Count(0, 500)]
Some: TypeAlias = Annotated[tuple[Item, ...], Count(0, 5_000)]
Many: TypeAlias = Annotated[tuple[Item, ...], Count(0, 50_000)]
"""As many as there may be openings, and more."""
ByNumber: TypeAlias = Annotated[Mapping[int, Item], Count(0, 50_000)]
