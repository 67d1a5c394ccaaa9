"""The door of this step: the bytes of a design file of any kind to the text of an SVG file."""

from dataclasses import dataclass

from peekpaper.drawing.file.decode import decode_svg
from peekpaper.refusal import Refusal
from peekpaper.sources.glance import may_hold_typefaces
from peekpaper.sources.signs import is_dxf, is_pdf
from peekpaper.sources.svg_text import svg_text


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of design file, and which of the package's extras reads it, None where none is needed."""

    name: str
    part: str | None


SVG = Kind("svg", None)
DXF = Kind("dxf", "dxf")
PDF = Kind("pdf", "pdf")
LETTERED_SVG = Kind("svg", "lettering")
"""SVG that holds typefaces for its words."""


def kind_of(data: bytes) -> Kind:
    """Return what kind of design a file is by its first bytes; SVG where it is of no other kind."""
    if is_dxf(data):
        return DXF
    if is_pdf(data):
        return PDF
    try:
        return LETTERED_SVG if may_hold_typefaces(decode_svg(data)) else SVG
    except Refusal:
        return SVG


def count_pages(data: bytes) -> int:
    """Return how many pages a design file has. Raises Refusal where it can't be read."""
    if kind_of(data) is not PDF:
        return 1
    from peekpaper.sources.pdf.page import count_pages as pages_of

    return pages_of(data)


def read_source(data: bytes, page: int = 1) -> str:
    """Return a design file as the text of an SVG file that draws the same at the same size.

    `page` counts the pages of a PDF file from 1. Words in an SVG file gain outlines where it
    holds their typeface. Raises Refusal for what is no design or can't be read.
    """
    # Each reader is there only once a file of its kind is brought in.
    kind = kind_of(data)
    if kind is DXF:
        from peekpaper.sources.dxf.page import dxf_page

        return svg_text(dxf_page(data))
    if kind is PDF:
        from peekpaper.sources.pdf.page import pdf_page

        return svg_text(pdf_page(data, page))
    svg = decode_svg(data)
    if kind is SVG:
        return svg
    from peekpaper.sources.lettering.draw import with_outlines

    return with_outlines(svg)
