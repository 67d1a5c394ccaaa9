"""Reads, checks and backs the designs of a folder at many finished sizes: what raises, and the time it takes.

    python tests/bench/scan_folder.py FOLDER [longest side in mm ...]

Prints a line for each file and size: processor seconds, openings, and what was refused or raised. Ends with 1
where anything raised, else with 0.
"""

import sys
import time
from collections.abc import Iterator
from pathlib import Path

from peekpaper.backing.backing import BackingChoices
from peekpaper.backing.make import make_backing
from peekpaper.design.design import Limits, Reading
from peekpaper.design.habits import Sheet
from peekpaper.design.make import designs
from peekpaper.design.size import first_tolerance, tolerance_for
from peekpaper.drawing.read import read_drawing
from peekpaper.refusal import Refusal

SIZES_MM = (
    20,
    45,
    60,
    80,
    101.6,
    127,
    150,
    177.8,
    200,
    203.2,
    230,
    250,
    279.4,
    304.8,
    350,
    400,
    450,
    500,
    609.6,
)


def main(folder: Path, sizes_mm: tuple[float, ...]) -> int:
    raised = 0
    for path in sorted(folder.glob("*.svg*")):
        for size_mm in sizes_mm:
            start = time.process_time()
            told, has_raised = _told(path.read_bytes(), size_mm)
            raised += has_raised
            print(f"{path.name}\t{size_mm:g}\t{time.process_time() - start:.2f}\t{told}", flush=True)
    return int(raised > 0)


def _told(data: bytes, size_mm: float) -> tuple[str, bool]:
    """Return what came of a design, and whether anything but a refusal was raised."""
    try:
        return f"{sum(1 for _ in _pieces(data, size_mm))} openings", False
    except Refusal as refusal:
        return str(refusal), False
    except Exception as error:
        return repr(error), True


def _pieces(data: bytes, size_mm: float) -> Iterator[object]:
    sheet = Sheet(read_drawing(data, first_tolerance))
    natural = next(designs(sheet, Reading(), Limits()))
    width_mm = size_mm * natural.width_mm / max(natural.width_mm, natural.height_mm)
    reading = Reading(width_mm=width_mm)
    wanted = tolerance_for(sheet.drawing, reading)
    if wanted < sheet.drawing.tolerance:
        sheet = Sheet(read_drawing(data, wanted))
    *_, design = designs(sheet, reading, Limits())
    yield from make_backing(
        design, BackingChoices(), {opening.number: "" for opening in design.openings}
    ).pieces


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), tuple(map(float, sys.argv[2:])) or SIZES_MM))
