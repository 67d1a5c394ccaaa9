"""Mends all that the check finds in the designs of a folder, at 200 mm: what is left, and what that changes.

    python tests/bench/scan_mending.py FOLDER [NAME ...]

Prints a line for each file that is read and has openings, then what holds for how many of them.
"""

import sys
import time
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from statistics import median, quantiles

import numpy as np
import shapely
from numpy.typing import NDArray

from peekpaper.design.design import Design, Limits, Opening, Reading
from peekpaper.design.habits import Sheet
from peekpaper.design.make import designs, make_design
from peekpaper.design.mending.effect import placing_of, whole_card
from peekpaper.design.mending.mend_all import added_to, mend_all
from peekpaper.design.size import first_tolerance, tolerance_for
from peekpaper.drawing.read import read_drawing
from peekpaper.geometry.overlay import intersection, symmetric_difference
from peekpaper.refusal import Refusal

LONGEST_MM = 200.0
BACKED_MM2 = 25.0
LOST = 0.1
"""An opening of which less than this share is left counts as lost."""


@dataclass(frozen=True)
class Mended:
    """What mending all makes of a design; `changed` is the symmetric difference as a share of the card."""

    clean: bool
    one_piece: bool
    changed: float
    lost: int
    again: int
    groups: int
    groups_kept: int
    seconds: float


def main(folder: Path, names: Sequence[str]) -> None:
    found = []
    for path in sorted(folder.glob("*.svg*")):
        if names and path.name not in names:
            continue
        try:
            mended = _mended(path.read_bytes())
        except Refusal:
            continue
        if mended is not None:
            found.append(mended)
            print(path.name, mended, sep="\t", flush=True)
    changed = [each.changed for each in found]
    whole, lost = sum(each.one_piece for each in found), sum(each.lost for each in found)
    print(f"{len(found)} designs, {sum(each.clean for each in found)} without a severe finding or a thin bar")
    print(f"{whole} in one piece, {lost} openings lost")
    print(f"{sum(each.again > 0 for each in found)} changed by mending again")
    print(f"changed {median(changed):.2%} in the median, {quantiles(changed, n=20)[-1]:.2%} at the 95th")
    print(f"{sum(each.groups_kept for each in found)} of {sum(each.groups for each in found)} groups kept")


def _mended(data: bytes) -> Mended | None:
    """Return what becomes of a design with openings."""
    limits = Limits()
    sheet = Sheet(read_drawing(data, first_tolerance))
    natural = next(designs(sheet, Reading(), limits))
    reading = Reading(width_mm=LONGEST_MM * natural.width_mm / max(natural.width_mm, natural.height_mm))
    drawing = sheet.drawing
    wanted = tolerance_for(drawing, reading)
    if wanted < drawing.tolerance:
        drawing = read_drawing(data, wanted)
    before = make_design(drawing, reading, limits)
    if not before.openings:
        return None
    start = time.process_time()
    found = mend_all(before, limits)
    seconds = time.process_time() - start
    after = make_design(drawing, reading, limits, added_to((), found))
    severe = {warning.code for warning in after.warnings if warning.severity >= 3}
    thin = any(bar.width_mm < limits.bar_mm for bar in after.bars)
    card = whole_card(before)
    left = np.array([_laid(opening.area, after, before) for opening in after.openings], dtype=object)
    shares = _shares(before, left)
    groups = _groups(before, after, shares, limits)
    return Mended(
        clean=not thin and not severe - {"larger-than-mat"},
        one_piece=len(after.card.geoms) == 1 and not after.loose_bits,
        changed=symmetric_difference(card, _laid(whole_card(after), after, before)).area / card.area,
        lost=sum(map(_is_lost, before.openings, shares)),
        again=len(mend_all(after, limits)),
        groups=len(groups),
        groups_kept=sum(groups),
        seconds=round(seconds, 2),
    )


def _laid(area: shapely.Geometry, one: Design, other: Design) -> shapely.Geometry:
    """Return an area in mm of one design in mm of another."""
    to, back = placing_of(one), placing_of(other)
    return shapely.transform(area, lambda points: back.places(to.px_places(points)))


def _shares(before: Design, left: NDArray[np.object_]) -> list[dict[int, float]]:
    """Return for each opening which of those that are `left` have how many mm2 of it."""
    openings = np.array([opening.area for opening in before.openings], dtype=object)
    opening, other = shapely.STRtree(left).query(openings, predicate="intersects")
    shared = shapely.area(intersection(openings[opening], left[other]))
    shares: list[dict[int, float]] = [{} for _ in openings]
    for one, which, area in zip(opening.tolist(), other.tolist(), shared.tolist(), strict=True):
        shares[one][which] = area
    return shares


def _is_lost(opening: Opening, shares: dict[int, float]) -> bool:
    return opening.area.area > BACKED_MM2 and sum(shares.values()) < LOST * opening.area.area


def _groups(before: Design, after: Design, shares: list[dict[int, float]], limits: Limits) -> list[bool]:
    """Tell of each group of alike openings whether it is one group still."""
    groups: defaultdict[int, list[int | None]] = defaultdict(list)
    for opening, shared in zip(before.openings, shares, strict=True):
        if opening.area.area >= limits.opening_mm2:
            heir = max(shared, key=shared.__getitem__, default=None)
            groups[opening.alike].append(None if heir is None else after.openings[heir].alike)
    return [len(set(numbers)) == 1 for numbers in groups.values() if len(numbers) > 1]


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2:])
