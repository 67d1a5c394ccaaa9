"""How long the desk's calls take: from a file of 1 MB to the screen, the views, the demo."""

from collections.abc import Iterator

from both_sides import both_sides
from table import Row


def main() -> Iterator[Row]:
    """Yield a row for each figure and side."""
    yield from both_sides("desk")
