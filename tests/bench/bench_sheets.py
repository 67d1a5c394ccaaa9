"""How long the sheets take: every kind for designs of 50 to 400 openings, and the curves' saving in nodes."""

import sys
from collections.abc import Iterator
from pathlib import Path

import shapely

from table import Row, seconds

sys.path.append(str(Path(__file__).parents[1] / "sheets"))

from sample_work import sample_work

from peekpaper.sheets.choices import SheetChoices, SheetKind
from peekpaper.sheets.curves import fit_outlines
from peekpaper.sheets.take import take_sheets


def main() -> Iterator[Row]:
    """Yield the figures."""
    for openings in (50, 100, 200, 400):
        work = sample_work(openings)
        time, files = seconds(lambda work=work: list(take_sheets(work, SheetChoices())))
        target = 1.5 if openings == 200 else None
        yield Row("sheets", f"all files, {openings} openings", time, "s", target, note=f"{len(files)} files")
    work = sample_work(200)
    for kind in SheetKind:
        if kind is not SheetKind.ARCHIVE:
            choices = SheetChoices(kinds=(kind,))
            time, files = seconds(lambda choices=choices: list(take_sheets(work, choices)))
            size = sum(len(file.data) for file in files) / 1e6
            yield Row("sheets", f"{kind}, 200 openings", time, "s", note=f"{size:.1f} MB")
    rings = [shapely.get_coordinates(piece.outline.exterior) for piece in work.backing.pieces]
    time, outlines = seconds(lambda: fit_outlines(rings))
    before, after = sum(map(len, rings)), sum(len(outline.cubics) for outline in outlines)
    yield Row("sheets", "curves fitted to 200 pieces", time, "s", note=f"{before} points, {after} curves")
