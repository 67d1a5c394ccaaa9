"""How much a file may ask for before it is refused."""

from collections.abc import Iterable

from peekpaper.drawing.file.document import MAX_DEPTH
from peekpaper.refusal import Refusal

MAX_VISITS = 60_000
"""Elements drawn, each `use` counting all that it draws again."""
MAX_SHAPES = 15_000
"""Half as much again as the most openings; the largest designs that were seen have some 1,600."""
MAX_POINTS = 3_000_000
"""Points of flattened curves; those of strokes count several times, for the work that they make."""
_STROKE_WEIGHT = 5
MAX_PATH_DATA = 6_000_000
"""Characters; a subpath or an arc makes the work of _CHARACTERS_OF_A_PART of them, however short it is."""
_CHARACTERS_OF_A_PART = 130
_SUBPATHS = ("M", "m")
_PARTS = (*_SUBPATHS, "A", "a")
MAX_SUBPATHS = 20_000
"""Twice the most openings, and more than three times what the largest designs have that were seen."""
MAX_DASHES = 50_000
MAX_CLIPPING = 3_000_000
"""Points of areas that meet clips, and _WORK_OF_A_CLIP more each time: a few seconds' work."""
_WORK_OF_A_CLIP = 300
MAX_CROSSINGS = 60_000
"""Points that filled areas have beyond their outlines': each is found in some 50 microseconds."""
_MOST_TANGLES = 4


class Budget:
    """Counts what was spent on a file; raises Refusal once it is too much."""

    def __init__(self) -> None:
        self._visits = 0
        self._shapes = 0
        self._points = 0
        self._dashes = 0
        self._clipping = 0
        self._crossings = 0

    def visit(self, depth: int, weight: int = 1) -> None:
        """Count an element that lies `depth` levels deep and makes the work of `weight` plain ones."""
        self._visits += weight
        if depth > MAX_DEPTH:
            raise Refusal("groups-nested", most=MAX_DEPTH)
        if self._visits > MAX_VISITS:
            raise Refusal("parts-repeated")

    def shape(self) -> None:
        """Count a shape."""
        self._shapes += 1
        self.expect_shapes(self._shapes)

    def expect_shapes(self, count: int) -> None:
        """Refuse a file that is known to have too many shapes before any of them is drawn."""
        if count > MAX_SHAPES:
            raise Refusal("too-many-shapes", most=MAX_SHAPES)

    def expect_path_data(self, data: Iterable[str]) -> None:
        """Refuse a file that is known to have far too much path data before any of it is parsed."""
        paths = list(data)
        if sum(map(_work_of, paths)) > MAX_PATH_DATA:
            raise Refusal("too-many-points")
        if sum(path.count(letter) for path in paths for letter in _SUBPATHS) > MAX_SUBPATHS:
            raise Refusal("too-many-shapes", most=MAX_SUBPATHS)

    def points(self, count: int) -> None:
        """Count points of flattened curves."""
        self._points += count
        if self._points > MAX_POINTS:
            raise Refusal("too-many-points")

    def stroke(self, count: int) -> None:
        """Count points of flattened curves that are stroked."""
        self.points(_STROKE_WEIGHT * count)

    def clip(self, count: int) -> None:
        """Count one more area, or two that meet, of so many points in the making of clips."""
        self._clipping += count + _WORK_OF_A_CLIP
        if self._clipping > MAX_CLIPPING:
            raise Refusal("too-many-clips")

    def crossings(self, count: int) -> None:
        """Count points where outlines cross; there may be fewer than none."""
        self._crossings += max(0, count)
        if self._crossings > MAX_CROSSINGS:
            raise Refusal("too-many-crossings")

    def tangle(self) -> None:
        """Count a shape that was given up because its outlines cross too often."""
        self.crossings(MAX_CROSSINGS // _MOST_TANGLES)

    def dashes(self, count: float) -> None:
        """Count dashes."""
        self._dashes += int(min(count, MAX_DASHES + 1))
        if self._dashes > MAX_DASHES:
            raise Refusal("too-many-dashes", most=MAX_DASHES)


def _work_of(path_data: str) -> int:
    return len(path_data) + _CHARACTERS_OF_A_PART * sum(map(path_data.count, _PARTS))
