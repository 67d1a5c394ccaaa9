"""Time that a design takes, by the number of its openings, and that its parts take."""

from collections.abc import Iterator

from both_sides import both_sides
from table import Row


def main() -> Iterator[Row]:
    """Yield a row for each figure and side."""
    yield from both_sides("design")
