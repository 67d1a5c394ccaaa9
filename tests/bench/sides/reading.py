"""Reading: time against the number of path segments, filled and stroked, and a design of 1 MB."""

import math
from collections.abc import Iterator
from itertools import pairwise

import numpy as np
from figure import Figure, seconds

from peekpaper.drawing.ink import ink
from peekpaper.drawing.read import read_drawing

CURVES_PER_FLOWER = 20
FILLED = 'fill-rule="evenodd"'
ATTRIBUTES = {
    "one filled path": FILLED,
    "stroked paths": 'fill="none" stroke="#000" stroke-width="0.5" stroke-linejoin="round"',
}


def figures() -> Iterator[Figure]:
    for case, attributes in ATTRIBUTES.items():
        per_thousand = {}
        for count in (1000, 10_000, 100_000):
            data = panel_of(count, attributes, one_path=case.startswith("one"))
            took, drawing = seconds(lambda data=data: read_drawing(data), repeats=1 if count > 10_000 else 3)
            per_thousand[count] = took / count * 1000
            note = f"{len(data) / 1e6:.2f} MB, {len(drawing.shapes)} shapes"
            yield Figure(f"{count:,} segments, {case}", took, note=note)
        growth = per_thousand[100_000] / per_thousand[1000]
        yield Figure(f"time per segment at 100,000 to 1,000, {case}", growth, "times", 2.0, 2.0)
    data = megabyte()
    took, drawing = seconds(lambda: read_drawing(data))
    yield Figure("a design of 1 MB", took, native=1.0, note=f"{len(data):,} bytes")
    took, _ = seconds(lambda: ink(drawing))
    yield Figure("its ink", took)


def megabyte() -> bytes:
    """A design of 1 MB with 1,100 openings."""
    return panel_of(22_000, FILLED, one_path=True)


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
