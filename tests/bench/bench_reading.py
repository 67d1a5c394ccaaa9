"""Time that reading a design takes, and how the ink of whole icon sets compares to a renderer's."""

import sys
from collections.abc import Iterable
from pathlib import Path

from both_sides import both_sides
from peekpaper.drawing.read import read_drawing
from peekpaper.refusal import Refusal
from table import Row, peak_memory_mb, seconds

sys.path.insert(0, str(Path(__file__).parents[1] / "drawing"))

from icon_sets import ICON_SETS, all_icons
from renderer import AGREES, share_that_differs


def main() -> Iterable[Row]:
    """Yield a row for each figure."""
    yield from both_sides("reading")
    yield from _icons()
    yield Row("reading", "memory at most", peak_memory_mb(), "MB")


def _icons() -> Iterable[Row]:
    icons = all_icons()
    refused = differing = 0

    def read_all() -> None:
        nonlocal refused
        for _, content in icons:
            try:
                read_drawing(content)
            except Refusal:
                refused += 1

    took, _ = seconds(read_all, repeats=1)
    sources = ", ".join(f"{one.package} {one.version} ({one.licence})" for one in ICON_SETS)
    yield Row("reading", "icons", len(icons), "", target=5000, at_least=True, note=sources)
    yield Row("reading", "icons refused", refused, "", target=0)
    yield Row("reading", "time per icon", took / len(icons) * 1000, "ms")
    for _, content in icons:
        differing += share_that_differs(content.decode(), width=240) > AGREES
    agreeing = 100 * (1 - differing / len(icons))
    note = f"{differing} differ from resvg by more than {AGREES:.1%} of the pixels"
    yield Row("reading", "icons whose ink is the renderer's", agreeing, "%", 99.5, at_least=True, note=note)


if __name__ == "__main__":
    from table import table

    print(table(main()))
