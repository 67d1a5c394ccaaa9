"""Pictures as the pages of a PDF, at true size."""

import warnings
from collections.abc import Sequence
from contextlib import nullcontext
from datetime import UTC, datetime
from typing import TYPE_CHECKING

import numpy as np

from peekpaper.geometry.affine import after
from peekpaper.geometry.outline import Floats
from peekpaper.sheets.picture.colours import channels
from peekpaper.sheets.picture.letters import BOLD_WEIGHT, Letters, letters_for
from peekpaper.sheets.picture.picture import Anchor, Area, Mark, Pattern, Picture, Stroke, Words
from peekpaper.sheets.picture.raster import Raster
from peekpaper.sheets.picture.typeface import CAP_HEIGHT
from peekpaper.sheets.plain_text import composed, to_latin_1

if TYPE_CHECKING:
    from fpdf import FPDF

_POINTS_PER_MM = 72 / 25.4
"""A point is 1/72 in (ISO 32000)."""

_MADE = datetime(1980, 1, 1, tzinfo=UTC)
"""One day for all files, so that equal pages give equal bytes; zips have this one too."""


def pictures_pdf(title: str, pages: Sequence[Picture]) -> bytes:
    """Return a PDF with one page for each picture, of the picture's size.

    Equal pages give equal bytes. Text is set in Helvetica, which every reader brings along, so nothing is
    embedded; where it has letters beyond Latin-1, in `letters`, of which what is written goes into the file.
    """
    # Heavy, and only needed once a PDF is asked for.
    with warnings.catch_warnings():
        # In the page it warns that it can't add pictures, and none are added.
        warnings.simplefilter("ignore", UserWarning)
        from fpdf import FPDF
        from fpdf.prefs import ViewerPreferences

    pdf = FPDF(unit="mm")
    pdf.set_auto_page_break(False)
    pdf.set_title(composed(title))
    pdf.set_creator("Peekpaper")
    pdf.set_creation_date(_MADE)
    # Readers otherwise shrink pages to the printable area, and the true size would be lost.
    pdf.viewer_preferences = ViewerPreferences(print_scaling="None", display_doc_title=True)
    for page in pages:
        pdf.add_page(format=(page.width_mm, page.height_mm))
        for mark in page.marks:
            _draw(pdf, mark)
    return bytes(pdf.output())


def _draw(pdf: "FPDF", mark: Mark) -> None:
    match mark:
        case Pattern():
            _repeat(pdf, mark)
        case Area():
            pdf.set_fill_color(*channels(mark.fill))
            _trace(pdf, mark.rings, "f")
        case Stroke():
            pdf.set_draw_color(*channels(mark.colour))
            pdf.set_line_width(mark.width_mm)
            pdf.set_dash_pattern(mark.dash_mm, mark.dash_mm)
            _trace(pdf, mark.lines, "S")
        case Words():
            _write(pdf, mark)


def _trace(pdf: "FPDF", lines: Sequence[Floats], operator: str) -> None:
    """Write each line as a path, closed where it ends where it began, and the operator that paints it.

    All of them go to the page at one go: point by point, as the library has it, takes five times as long.
    """
    if lines:
        pdf._out("\n".join(f"{_path(pdf, line)} {operator}" for line in lines))


def _path(pdf: "FPDF", line: Floats) -> str:
    closed = len(line) > 2 and (line[0] == line[-1]).all()
    points = (line[:-1] if closed else line) * (pdf.k, -pdf.k) + (0, pdf.h * pdf.k)
    steps = "%.2f %.2f m" + " %.2f %.2f l" * (len(points) - 1)
    return f"{steps % tuple(points.ravel().tolist())}{' h' if closed else ''}"


def _repeat(pdf: "FPDF", pattern: Pattern) -> None:
    """Write as many repeats of a pattern as its areas show, clipped to them."""
    clip = " ".join(_path(pdf, ring) for ring in pattern.rings)
    image = f"/I{_image(pdf, pattern.raster)} Do"
    width = pattern.raster_width_mm
    height = width * pattern.raster.height_px / pattern.raster.width_px
    to_page = np.array([[pdf.k, 0.0, 0.0], [0.0, -pdf.k, pdf.h * pdf.k]])
    matrix = after(to_page, pattern.matrix)
    repeats = [
        # An image fills the unit square, its top row at 1 (ISO 32000-1, 8.9.5.1).
        after(matrix, np.array([[width, 0.0, column * width], [0.0, -height, (row + 1) * height]]))
        for column, row in _repeats_seen(pattern, width, height)
    ]
    drawn = " ".join(
        f"q {' '.join(f'{number:.4f}' for number in one.T.ravel())} cm {image} Q" for one in repeats
    )
    pdf._out(f"q {clip} W n {drawn} Q")


def _repeats_seen(pattern: Pattern, width: float, height: float) -> list[tuple[int, int]]:
    """Return columns and rows of the repeats that lie in the box around a pattern's areas."""
    corners = np.concatenate(pattern.rings) - pattern.matrix[:, 2]
    on_pattern = corners @ np.linalg.inv(pattern.matrix[:, :2]).T / (width, height)
    (left, top), (right, bottom) = np.floor(on_pattern.min(axis=0)), np.ceil(on_pattern.max(axis=0))
    return [(column, row) for row in range(int(top), int(bottom)) for column in range(int(left), int(right))]


def _image(pdf: "FPDF", raster: Raster) -> int:
    """Return the number of a picture in the file, put in once however often it is shown."""
    from fpdf.enums import PDFResourceType
    from fpdf.image_datastructures import RasterImageInfo

    images = pdf.image_cache.images
    name = str(id(raster))
    if name not in images:
        images[name] = RasterImageInfo(
            i=len(images) + 1,
            w=raster.width_px,
            h=raster.height_px,
            cs=raster.colour_space,
            bpc=raster.bits,
            f=raster.filter,
            dp=raster.parameters,
            data=raster.data,
            pal=raster.palette,
            inverted=raster.inverted,
            usages=1,
        )
    number = images[name]["i"]
    assert isinstance(number, int)
    pdf._resource_catalog.add(PDFResourceType.X_OBJECT, number, pdf.page)
    return number


def _write(pdf: "FPDF", words: Words) -> None:
    letters = letters_for(words.text)
    family = "Helvetica" if letters is None else _embedded(pdf, letters, words.bold)
    text = to_latin_1(words.text) if letters is None else letters.written(words.text)
    pdf.set_font(family, "B" if words.bold else "", words.cap_height / CAP_HEIGHT * _POINTS_PER_MM)
    pdf.set_text_color(*channels(words.colour))
    share = {Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}[words.anchor]
    shift = share * pdf.get_string_width(text) if share else 0.0
    with pdf.rotation(-words.turn_deg, words.x, words.y) if words.turn_deg else nullcontext():
        pdf.text(words.x - shift, words.y + words.cap_height / 2, text)


def _embedded(pdf: "FPDF", letters: Letters, bold: bool) -> str:
    """Return the name of a typeface in the file, put in when it is first asked for."""
    name = letters.path.stem.lower()
    if f"{name}{'B' if bold else ''}" not in pdf.fonts:
        if bold:
            pdf.add_font(name, "", str(letters.path), variations={"B": {"wght": BOLD_WEIGHT}})
        else:
            pdf.add_font(name, "", str(letters.path))
    return name
