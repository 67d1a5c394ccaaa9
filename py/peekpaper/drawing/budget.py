"""How much a file may ask for before it is refused."""

from peekpaper.refusal import Refusal

MAX_VISITS = 400_000
"""Elements drawn, each `use` counting all that it draws again."""
MAX_SHAPES = 200_000
MAX_POINTS = 4_000_000
MAX_DEPTH = 200


class Budget:
    """Counts what was spent on a file; raises Refusal once it is too much."""

    def __init__(self) -> None:
        self._visits = 0
        self._shapes = 0
        self._points = 0

    def visit(self, depth: int) -> None:
        """Count an element that lies `depth` levels deep."""
        self._visits += 1
        if depth > MAX_DEPTH:
            raise Refusal(f"Groups are nested more than {MAX_DEPTH} deep in the file: ungroup it first.")
        if self._visits > MAX_VISITS:
            raise Refusal(
                "The file repeats its parts too often to be read: simplify it in your drawing program."
            )

    def shape(self) -> None:
        """Count a shape."""
        self._shapes += 1
        if self._shapes > MAX_SHAPES:
            raise Refusal(
                f"The file has more than {MAX_SHAPES:,} shapes: simplify it in your drawing program first."
            )

    def points(self, count: int) -> None:
        """Count points of flattened curves."""
        self._points += count
        if self._points > MAX_POINTS:
            raise Refusal(
                f"The file has more than {MAX_POINTS:,} points: simplify its paths in your drawing program first."
            )
