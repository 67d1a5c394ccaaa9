"""What a drawing of another format paints: the value between its reader and the SVG text."""

from collections.abc import Sequence
from dataclasses import dataclass

Segment = tuple[complex, ...]
"""To one point by a straight line, or by a cubic to the last of three."""


@dataclass(frozen=True, slots=True)
class Outline:
    """A subpath from `start` through `segments`, in the page's units as complex numbers, y down."""

    start: complex
    segments: tuple[Segment, ...]
    closed: bool

    @property
    def end(self) -> complex:
        """Where the last segment ends."""
        return self.segments[-1][-1] if self.segments else self.start

    @property
    def backwards(self) -> "Outline":
        """The same subpath from its end to its start."""
        points = [self.start, *(segment[-1] for segment in self.segments)]
        turned = tuple(
            (*segment[-2::-1], before)
            for segment, before in zip(reversed(self.segments), reversed(points[:-1]), strict=True)
        )
        return Outline(self.end, turned, self.closed)


@dataclass(frozen=True, slots=True)
class PaintedPath:
    """Outlines painted together; colours as `#rrggbb`, None where there is no fill or no stroke.

    `clip` numbers the clip of the page within which it is seen, None where it is seen whole. `complete` is
    False where some of it could not be read.
    """

    layer: str
    outlines: tuple[Outline, ...]
    fill: str | None = None
    stroke: str | None = None
    stroke_width: float = 0.0
    even_odd: bool = True
    fill_opacity: float = 1.0
    stroke_opacity: float = 1.0
    stroke_style: str = ""
    clip: int | None = None
    complete: bool = True


@dataclass(frozen=True, slots=True)
class Lettering:
    """Words that stand in the drawing as text, empty where the letters are not known.

    `size` is the height of the letters in the page's units.
    """

    layer: str
    at: complex
    size: float
    text: str


@dataclass(frozen=True, slots=True)
class Clip:
    """What paths are seen within: the outlines, in turn within the clip that `within` numbers."""

    outlines: tuple[Outline, ...]
    even_odd: bool
    within: int | None


@dataclass(frozen=True, slots=True)
class VectorPage:
    """A page of a drawing: what it paints, and its box (left, top, right, bottom), y down, in its own units.

    `mm_per_unit` is None where the file leaves it open; `units_per_inch` is then what is likely. `broken_off`
    tells that the file ends before its end.
    """

    box: tuple[float, float, float, float]
    mm_per_unit: float | None
    units_per_inch: float
    content: Sequence[PaintedPath | Lettering]
    clips: Sequence[Clip] = ()
    pictures: int = 0
    broken_off: bool = False
