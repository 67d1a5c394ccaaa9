"""The step's door: a plan to files."""

from collections.abc import Iterator

from peekpaper.sheets.choices import SheetChoices, SheetKind
from peekpaper.sheets.cut_sheets import cut_sheets
from peekpaper.sheets.dxf_cut import dxf_cut
from peekpaper.sheets.plain_text import file_stem
from peekpaper.sheets.sheet_file import SheetFile
from peekpaper.sheets.svg_cut import svg_cut
from peekpaper.sheets.work import Work

_SVG, _DXF = "image/svg+xml", "image/vnd.dxf"


def take_sheets(work: Work, choices: SheetChoices) -> Iterator[SheetFile]:
    """Yield the files of the wanted kinds, one after another, so that a caller can show progress or stop."""
    base = file_stem(work.project.name) or "peekpaper"
    if {SheetKind.CUT, SheetKind.DXF}.intersection(choices.kinds):
        yield from _cut_files(base, work, choices)


def _cut_files(base: str, work: Work, choices: SheetChoices) -> Iterator[SheetFile]:
    for sheet in cut_sheets(work, choices):
        stem = f"{base} {sheet.name}"
        if SheetKind.CUT in choices.kinds:
            yield SheetFile(f"{stem}.svg", _SVG, svg_cut(sheet, choices.unit))
        if SheetKind.DXF in choices.kinds:
            for release in choices.dxf_releases:
                name = f"{stem} {choices.unit} {release}.dxf"
                yield SheetFile(name, _DXF, dxf_cut(sheet, choices.unit, release))
