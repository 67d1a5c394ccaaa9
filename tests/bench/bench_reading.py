"""Time that reading a design takes, and how the ink of whole icon sets compares to a renderer's."""

import math
import sys
from collections.abc import Iterable
from itertools import pairwise
from pathlib import Path

import numpy as np

from peekpaper.drawing.ink import ink
from peekpaper.drawing.read import read_drawing
from peekpaper.refusal import Refusal
from table import Row, peak_memory_mb, seconds

sys.path.insert(0, str(Path(__file__).parents[1] / "drawing"))

from icon_sets import ICON_SETS, all_icons
from renderer import AGREES, share_that_differs

CURVES_PER_FLOWER = 20
ATTRIBUTES = {
    "one filled path": 'fill-rule="evenodd"',
    "stroked paths": 'fill="none" stroke="#000" stroke-width="0.5" stroke-linejoin="round"',
}


def main() -> Iterable[Row]:
    """Yield a row for each figure."""
    yield from _speed()
    yield from _icons()
    yield Row("reading", "memory at most", peak_memory_mb(), "MB")


def _speed() -> Iterable[Row]:
    for case, attributes in ATTRIBUTES.items():
        per_thousand = {}
        for count in (1000, 10_000, 100_000):
            data = panel_of(count, attributes, one_path=case.startswith("one"))
            took, drawing = seconds(lambda data=data: read_drawing(data), repeats=1 if count > 10_000 else 3)
            per_thousand[count] = took / count * 1000
            note = f"{len(data) / 1e6:.2f} MB, {len(drawing.shapes)} shapes"
            yield Row("reading", f"{count:,} segments, {case}", took, "s", note=note)
        growth = per_thousand[100_000] / per_thousand[1000]
        yield Row("reading", f"time per segment at 100,000 to 1,000, {case}", growth, "times", target=2.0)
    data = panel_of(22_000, ATTRIBUTES["one filled path"], one_path=True)
    took, drawing = seconds(lambda: read_drawing(data))
    yield Row("reading", "a design of 1 MB", took, "s", target=1.0, note=f"{len(data):,} bytes")
    took, _ = seconds(lambda: ink(drawing))
    yield Row("reading", "its ink", took, "s")


def panel_of(count: int, attributes: str, *, one_path: bool) -> bytes:
    """A panel of flowers, `count` curves in all."""
    flowers = math.ceil(count / CURVES_PER_FLOWER)
    columns = math.ceil(math.sqrt(flowers))
    paths = [_flower(place % columns * 10 + 5, place // columns * 10 + 5) for place in range(flowers)]
    side = columns * 10
    if one_path:
        body = f'<path {attributes} d="M0 0H{side}V{side}H0z{"".join(paths)}"/>'
    else:
        body = f"<g {attributes}>" + "".join(f'<path d="{path}"/>' for path in paths) + "</g>"
    page = f'<svg xmlns="http://www.w3.org/2000/svg" width="{side}" height="{side}">{body}</svg>'
    return page.encode()


def _flower(x: float, y: float) -> str:
    turns = np.linspace(0, 2 * np.pi, CURVES_PER_FLOWER + 1)
    around = complex(x, y) + (3 + np.sin(5 * turns)) * np.exp(1j * turns)
    curves = []
    for start, end in pairwise(around):
        first, second = start + (end - start) * (0.3 + 0.1j), start + (end - start) * (0.7 + 0.1j)
        curves.append("C" + " ".join(f"{p.real:.3f} {p.imag:.3f}" for p in (first, second, end)))
    return f"M{around[0].real:.3f} {around[0].imag:.3f}" + "".join(curves) + "z"


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
