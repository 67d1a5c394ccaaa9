"""Cut sheets as drawing exchange files, for machines whose software reads no SVG."""

import io
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from peekpaper.geometry.outline import Floats
from peekpaper.sheets.choices import DxfRelease
from peekpaper.sheets.cut.arcs import bulged
from peekpaper.sheets.cut.cut_sheet import CutSheet
from peekpaper.units import PER_MM

_CODES = {"in": 1, "mm": 4}
"""The format's codes of units ($INSUNITS)."""

_LAYER_COLOURS = {"CUT": 7, "GUIDE": 5, "SIZE-CHECK": 3}
"""Colours of the format's own index: black or white, blue, green."""


def dxf_cut(sheet: CutSheet, unit: str, release: DxfRelease) -> bytes:
    """Return the sheet as a DXF file in `unit` ("in" or "mm"), the origin at the lower left, y up.

    Cuts are closed polylines of lines and arcs in the layer CUT and nothing else is; guides and the size
    check are in layers of their own. The header tells the unit, in R12 too, where it is an addition of later
    releases that readers know or pass over.
    """
    return _r12(sheet, unit) if release is DxfRelease.R12 else _current(sheet, unit, release)


@dataclass(frozen=True, slots=True, eq=False)
class _Polyline:
    """Rows of x, y and bulge in the unit of the file, y up."""

    layer: str
    points: Floats
    closed: bool


def _polylines(sheet: CutSheet, unit: str) -> Iterator[_Polyline]:
    upright = np.array([1.0, -1.0]) * PER_MM[unit]
    foot = np.array([0.0, sheet.height_mm * PER_MM[unit]])
    check = (sheet.size_check,) if sheet.size_check else ()
    for layer, groups in (("CUT", sheet.groups), ("SIZE-CHECK", check)):
        for points in bulged([cut.outline for group in groups for cut in group.cuts]):
            # Turning y up turns every arc the other way round.
            yield _Polyline(layer, np.column_stack([points[:, :2] * upright + foot, -points[:, 2]]), True)
    for line in sheet.guides:
        yield _Polyline("GUIDE", np.column_stack([line * upright + foot, np.zeros(len(line))]), False)


def _r12(sheet: CutSheet, unit: str) -> bytes:
    """Write the least header and the entities, which is all that a reader of this release needs."""
    # Only needed once such a file is asked for.
    from ezdxf.addons.r12writer import R12FastStreamWriter

    text = io.StringIO()
    text.write(
        f"0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1009\n9\n$INSUNITS\n70\n{_CODES[unit]}\n0\nENDSEC\n"
    )
    drawing = R12FastStreamWriter(text)
    for line in _polylines(sheet, unit):
        colour = _LAYER_COLOURS[line.layer]
        drawing.add_polyline_2d(
            line.points.tolist(), "xyb", closed=line.closed, layer=line.layer, color=colour
        )
    drawing.close()
    return text.getvalue().encode("ascii")


def _current(sheet: CutSheet, unit: str, release: DxfRelease) -> bytes:
    # Heavy, and only needed once such a file is asked for.
    from ezdxf.document import Drawing

    drawing = Drawing.new(str(release))
    drawing.units = _CODES[unit]
    drawing.header["$MEASUREMENT"] = 0 if unit == "in" else 1
    for layer, colour in _LAYER_COLOURS.items():
        drawing.layers.add(layer, color=colour)
    space = drawing.modelspace()
    space.reset_extents((0, 0, 0), (sheet.width_mm * PER_MM[unit], sheet.height_mm * PER_MM[unit], 0))
    for line in _polylines(sheet, unit):
        attributes = {"layer": line.layer}
        space.add_lwpolyline(line.points.tolist(), "xyb", close=line.closed, dxfattribs=attributes)
    text = io.StringIO()
    drawing.write(text)
    return drawing.encode(text.getvalue())
