"""Sheets: every file for designs of 50 to 400 openings, each kind for 200, and the gluing order."""

from collections.abc import Iterator

import shapely
from figure import Figure, seconds
from sample_work import sample_work, squares_project

from peekpaper.geometry.fitting.curves import fit_outlines
from peekpaper.gluing.glue_up import glue_up
from peekpaper.pipeline import Pipeline
from peekpaper.sheets.choices import SheetChoices, SheetKind
from peekpaper.sheets.take import take_sheets


def figures() -> Iterator[Figure]:
    for openings in (50, 100, 200, 400):
        work = sample_work(openings)
        taken, files = seconds(lambda work=work: list(take_sheets(work, SheetChoices())), repeats=2)
        native, page = (1.5, 5.0) if openings == 200 else (None, None)
        size = sum(len(file.data) for file in files) / 1e6
        note = f"{len(files)} files, {size:.1f} MB"
        yield Figure(f"all files, {openings} openings", taken, "s", native, page, note)
    work = sample_work(200)
    for kind in SheetKind:
        if kind is not SheetKind.ARCHIVE:
            choices = SheetChoices(kinds=(kind,))
            taken, files = seconds(lambda choices=choices: list(take_sheets(work, choices)), repeats=2)
            size = sum(len(file.data) for file in files) / 1e6
            yield Figure(f"{kind}, 200 openings", taken, note=f"{size:.1f} MB")
    taken, _ = seconds(lambda: glue_up(work.project, work.design, work.backing))
    yield Figure("gluing order, 200 openings", taken)
    squares, pipeline = squares_project(20), Pipeline()
    design, backing = pipeline.design(squares), pipeline.backing(squares)
    taken, _ = seconds(lambda: glue_up(squares, design, backing), repeats=1)
    yield Figure("gluing order, 400 alike squares", taken)
    rings = [shapely.get_coordinates(piece.outline.exterior) for piece in work.backing.pieces]
    taken, outlines = seconds(lambda: fit_outlines(rings))
    before, after = sum(map(len, rings)), sum(len(outline.cubics) for outline in outlines)
    yield Figure("curves fitted to 200 pieces", taken, note=f"{before} points, {after} curves")
