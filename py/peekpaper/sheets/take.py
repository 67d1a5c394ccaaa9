"""The step's door: a plan to files."""

from collections.abc import Iterator, Sequence

from peekpaper.sheets.archive import packed
from peekpaper.sheets.choices import SheetChoices, SheetKind
from peekpaper.sheets.cut.cut_sheets import cut_sheet_count, cut_sheets
from peekpaper.sheets.cut.dxf_cut import dxf_cut
from peekpaper.sheets.cut.svg_cut import svg_cut
from peekpaper.sheets.lists.shopping import shopping_csv
from peekpaper.sheets.lists.trim_list import trims_csv
from peekpaper.sheets.pages.glue_pages import glue_pages
from peekpaper.sheets.pages.printed_pages import (
    has_prints,
    printed_piece_pages,
    printed_trim_pages,
    trial_pages,
)
from peekpaper.sheets.pages.template_pages import template_pages
from peekpaper.sheets.pages.trim_pages import trim_pages
from peekpaper.sheets.picture.picture import Picture
from peekpaper.sheets.picture.picture_pdf import pictures_pdf
from peekpaper.sheets.picture.picture_png import picture_png
from peekpaper.sheets.picture.picture_svg import picture_svg
from peekpaper.sheets.picture.views import back_view, front_view
from peekpaper.sheets.plain_text import file_stem
from peekpaper.sheets.sheet_file import Purpose, SheetFile
from peekpaper.sheets.work import Work
from peekpaper.words.words import bare

_SVG, _DXF, _PNG = "image/svg+xml", "image/vnd.dxf", "image/png"
_PDF, _CSV = "application/pdf", "text/csv"


def take_sheets(work: Work, choices: SheetChoices) -> Iterator[SheetFile]:
    """Yield the files of the wanted kinds, one after another, so that a caller can show progress or stop."""
    base = file_stem(work.project.name) or "peekpaper"
    say = work.words.text
    files: list[SheetFile] = []
    for file in _files(base, work, choices):
        files.append(file)
        yield file
    if SheetKind.ARCHIVE in choices.kinds:
        yield packed(f"{base} {say('file.sheets')}", files)


def file_count(work: Work, choices: SheetChoices) -> int:
    """Return how many files `take_sheets` yields."""
    formats = {SheetKind.CUT: 1, SheetKind.DXF: len(choices.dxf_releases)}
    others = {SheetKind.TRIM_LIST: 3, SheetKind.GLUE_UP: 5, SheetKind.TEMPLATES: 1, SheetKind.ARCHIVE: 1}
    if has_prints(work):
        others |= {SheetKind.PRINTED_TRIMS: 2, SheetKind.PRINTED_PIECES: 1}
    sheets = cut_sheet_count(work, choices)
    return sum(formats.get(kind, 0) * sheets + others.get(kind, 0) for kind in set(choices.kinds))


def _files(base: str, work: Work, choices: SheetChoices) -> Iterator[SheetFile]:
    say = work.words.text
    if {SheetKind.CUT, SheetKind.DXF}.intersection(choices.kinds):
        yield from _cut_files(base, work, choices)
    if SheetKind.TRIM_LIST in choices.kinds:
        trims, to_buy = f"{base} {say('file.trim-list')}", f"{base} {say('file.to-buy')}"
        yield SheetFile(f"{trims}.csv", _CSV, trims_csv(work, choices), Purpose.TRIM_LIST)
        yield SheetFile(f"{to_buy}.csv", _CSV, shopping_csv(work, choices.unit), Purpose.TO_BUY)
        yield _document(trims, trim_pages(work, choices), Purpose.TRIM_LIST)
    if SheetKind.GLUE_UP in choices.kinds:
        for side, view in ((say("file.glue-up-back"), back_view), (say("file.glue-up-front"), front_view)):
            picture = view(work, 1.0)
            yield SheetFile(f"{base} {side}.svg", _SVG, picture_svg(picture), Purpose.GLUE_UP)
            yield SheetFile(f"{base} {side}.png", _PNG, picture_png(picture), Purpose.GLUE_UP)
        yield _document(f"{base} {say('file.glue-up')}", glue_pages(work, choices), Purpose.GLUE_UP)
    if SheetKind.TEMPLATES in choices.kinds:
        name = f"{base} {say('file.templates')} {choices.paper_size}"
        yield _document(name, template_pages(work, choices), Purpose.TEMPLATES)
    if has_prints(work):
        yield from _printed_files(base, work, choices)


def _printed_files(base: str, work: Work, choices: SheetChoices) -> Iterator[SheetFile]:
    say = work.words.text
    if SheetKind.PRINTED_TRIMS in choices.kinds:
        strip, trims = f"{base} {say('file.test-strip')}", f"{base} {say('file.printed-trims')}"
        yield _document(strip, trial_pages(work, choices), Purpose.TEST_STRIP)
        yield _document(trims, printed_trim_pages(work, choices), Purpose.PRINTED_TRIMS)
    if SheetKind.PRINTED_PIECES in choices.kinds:
        pieces = f"{base} {say('file.printed-pieces')}"
        yield _document(pieces, printed_piece_pages(work), Purpose.PRINTED_PIECES)


def _document(name: str, pages: Sequence[Picture], purpose: Purpose) -> SheetFile:
    return SheetFile(f"{name}.pdf", _PDF, pictures_pdf(name, pages), purpose)


def _cut_files(base: str, work: Work, choices: SheetChoices) -> Iterator[SheetFile]:
    measured = "file.in-inches" if choices.unit == "in" else "file.in-mm"
    for sheet in cut_sheets(work, choices):
        stem = f"{base} {sheet.name}"
        if SheetKind.CUT in choices.kinds:
            yield SheetFile(f"{stem}.svg", _SVG, svg_cut(sheet, choices.unit, work.words), sheet.purpose)
        if SheetKind.DXF in choices.kinds:
            for release in choices.dxf_releases:
                name = f"{bare(work.words.text(measured, stem=stem))} {release}.dxf"
                yield SheetFile(name, _DXF, dxf_cut(sheet, choices.unit, release), sheet.purpose)
