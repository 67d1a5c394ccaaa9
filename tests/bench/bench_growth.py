"""How the time from a file to its backing grows with the number of openings, all different."""

import time
from collections.abc import Iterator
from itertools import pairwise

from openwork import mosaic
from peekpaper.backing.backing import BackingChoices
from peekpaper.backing.make import make_backing
from peekpaper.design.design import Limits, Reading
from peekpaper.design.habits import Sheet
from peekpaper.design.make import designs
from peekpaper.design.size import first_tolerance
from peekpaper.drawing.read import read_drawing
from table import Row

_COUNTS = (250, 500, 1_000, 2_000, 4_000, 8_000)
_STEPS = ("reading", "card and openings", "alike, bars and checks", "backing")
_PITCH_MM = 12.0
_RIM_MM = 6.0


def main() -> Iterator[Row]:
    """Yield for each doubling the ratio of processor times, of all steps and of each."""
    before = _seconds(_COUNTS[0])
    for count in _COUNTS[1:]:
        after = _seconds(count)
        doubling = f"{count // 2:,} to {count:,} different openings"
        note = f"processor time {sum(before):.2f} to {sum(after):.2f} s"
        yield Row("growth", f"{doubling}: file to backing", sum(after) / sum(before), "times", 2.2, note=note)
        for step, least, most in zip(_STEPS, before, after, strict=True):
            yield Row("growth", f"{doubling}: {step}", most / least, "times")
        before = after


def _seconds(count: int) -> list[float]:
    """Return the processor time of each step on a mosaic."""
    svg = _mosaic_svg(count)
    times = [time.process_time()]
    sheet = Sheet(read_drawing(svg, first_tolerance))
    times.append(time.process_time())
    making = designs(sheet, Reading(), Limits())
    next(making)
    times.append(time.process_time())
    *_, design = making
    times.append(time.process_time())
    make_backing(design, BackingChoices(), {opening.number: "" for opening in design.openings})
    times.append(time.process_time())
    return [after - before for before, after in pairwise(times)]


def _mosaic_svg(count: int) -> bytes:
    side = _PITCH_MM * count**0.5
    low, high, whole = -_RIM_MM, side + _RIM_MM, side + 2 * _RIM_MM
    outlines = [
        "M" + "L".join(f"{x:.4f} {y:.4f}" for x, y in cell.exterior.coords[:-1]) + "Z"
        for cell in mosaic(count, 3, side, side)
    ]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{whole}mm" height="{whole}mm" '
        f'viewBox="{low} {low} {whole} {whole}"><path fill-rule="evenodd" '
        f'd="M{low} {low}H{high}V{high}H{low}Z{"".join(outlines)}"/></svg>'
    ).encode()
