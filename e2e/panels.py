"""Designs that the tests bring along."""

from collections.abc import Sequence
from math import cos, pi, sin

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
        for (x, y), (width, height) in zip(map(corner, range(1, 1 + len(sizes_mm))), sizes_mm, strict=True)
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH_MM}mm" height="{HEIGHT_MM}mm" '
        f'viewBox="0 0 {WIDTH_MM} {HEIGHT_MM}">'
        f'<path fill-rule="evenodd" d="M0 0h{WIDTH_MM}v{HEIGHT_MM}h-{WIDTH_MM}z{holes}"/></svg>'
    )


def rosette_svg(petals: int) -> str:
    """Return a round card of 120 mm with a ring of petals drawn by an unsteady hand: no two are congruent."""
    outline = ((14, -3), (24, -6), (33, -1), (34, 4), (25, 7), (16, 3))
    holes = []
    for petal in range(petals):
        turn = 2 * pi * petal / petals
        # Each point strays by up to 0.8 mm, in a way of its own.
        strayed = [
            (x + 0.8 * sin(3 * petal + 7 * at), y + 0.8 * cos(5 * petal + 2 * at))
            for at, (x, y) in enumerate(outline)
        ]
        points = " ".join(
            f"{60 + x * cos(turn) - y * sin(turn):.2f},{60 + x * sin(turn) + y * cos(turn):.2f}"
            for x, y in strayed
        )
        holes.append(f"M{points}z")
    disc = "M0 60a60 60 0 1 0 120 0a60 60 0 1 0-120 0z"
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="120mm" viewBox="0 0 120 120">'
        f'<path fill-rule="evenodd" d="{disc}{"".join(holes)}"/></svg>'
    )


def blossoms_svg() -> str:
    """Return a card of 150 by 90 mm with two blossoms side by side, each of six discs around one."""
    discs = [
        (x + 10 * cos(turn * pi / 3) * (turn < 6), 45 + 10 * sin(turn * pi / 3) * (turn < 6))
        for x in (40, 110)
        for turn in range(7)
    ]
    holes = "".join(f"M{x - 4:.2f} {y:.2f}a4 4 0 1 0 8 0a4 4 0 1 0 -8 0z" for x, y in discs)
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="150mm" height="90mm" viewBox="0 0 150 90">'
        f'<path fill-rule="evenodd" d="M0 0H150V90H0z{holes}"/></svg>'
    )
