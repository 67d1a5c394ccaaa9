"""Designs that the tests bring along."""

from collections.abc import Sequence

GRID = (3, 2)
PITCH_MM = 30.0
HOLE_MM = 20.0
WIDTH_MM, HEIGHT_MM = 100.0, 70.0
CARD_COLOUR = "#2f3b4a"


def corner(number: int) -> tuple[float, float]:
    """Return the top left corner of an opening in mm; openings count from 1 in rows."""
    row, column = divmod(number - 1, GRID[0])
    return 10 + PITCH_MM * column, 10 + PITCH_MM * row


def middle(number: int) -> tuple[float, float]:
    """Return the middle of an opening in mm."""
    x, y = corner(number)
    return x + HOLE_MM / 2, y + HOLE_MM / 2


def window_svg(sizes_mm: Sequence[tuple[float, float]] = ((HOLE_MM, HOLE_MM),) * 6) -> str:
    """Return a card of 100 by 70 mm with six openings in two rows: squares of 20 mm, or other sizes."""
    holes = "".join(
        f"M{x} {y}v{height}h{width}v-{height}z"
        for (x, y), (width, height) in zip(map(corner, range(1, 7)), sizes_mm, strict=True)
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH_MM}mm" height="{HEIGHT_MM}mm" '
        f'viewBox="0 0 {WIDTH_MM} {HEIGHT_MM}">'
        f'<path fill-rule="evenodd" d="M0 0h{WIDTH_MM}v{HEIGHT_MM}h-{WIDTH_MM}z{holes}"/></svg>'
    )
