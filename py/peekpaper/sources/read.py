"""The door of this step: the bytes of a design file of any kind to the text of an SVG file."""

from dataclasses import dataclass

from peekpaper.drawing.file.decode import decode_svg
from peekpaper.sources.dxf.page import dxf_page, is_dxf
from peekpaper.sources.svg_text import svg_text


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of design file, and which of the package's extras reads it, None where none is needed."""

    name: str
    part: str | None


SVG = Kind("svg", None)
DXF = Kind("dxf", "dxf")


def kind_of(data: bytes) -> Kind:
    """Return what kind of design a file is by its first bytes; SVG where it is of no other kind."""
    return DXF if is_dxf(data) else SVG


def read_source(data: bytes) -> str:
    """Return a design file as the text of an SVG file that draws the same at the same size.

    Raises Refusal for a file that is no design or can't be read.
    """
    if kind_of(data) is DXF:
        return svg_text(dxf_page(data))
    return decode_svg(data)
