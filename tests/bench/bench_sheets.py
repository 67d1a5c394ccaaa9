"""How long the sheets and the gluing order take, and what fitted curves save in nodes."""

from collections.abc import Iterator

from both_sides import both_sides
from table import Row


def main() -> Iterator[Row]:
    """Yield a row for each figure and side."""
    yield from both_sides("sheets")
