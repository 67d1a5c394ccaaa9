"""The step's door: a plan to files."""

from collections.abc import Iterator

from peekpaper.sheets.choices import SheetChoices, SheetKind
from peekpaper.sheets.cut_sheets import cut_sheets
from peekpaper.sheets.plain_text import file_stem
from peekpaper.sheets.sheet_file import SheetFile
from peekpaper.sheets.svg_cut import svg_cut
from peekpaper.sheets.work import Work

_SVG = "image/svg+xml"


def take_sheets(work: Work, choices: SheetChoices) -> Iterator[SheetFile]:
    """Yield the files of the wanted kinds, one after another, so that a caller can show progress or stop."""
    base = file_stem(work.project.name) or "peekpaper"
    if SheetKind.CUT in choices.kinds:
        for sheet in cut_sheets(work, choices):
            yield SheetFile(f"{base} {sheet.name}.svg", _SVG, svg_cut(sheet, choices.unit))
