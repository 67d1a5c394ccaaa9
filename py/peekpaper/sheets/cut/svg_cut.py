"""Cut sheets as SVG, at true size."""

from xml.etree import ElementTree

import numpy as np

from peekpaper.geometry.outline import Floats, Outline
from peekpaper.sheets.cut.cut_sheet import CutGroup, CutSheet
from peekpaper.sheets.xml_file import xml_file
from peekpaper.units import PER_MM
from peekpaper.words.words import Language

_DECIMALS = {"mm": 4, "in": 6}
"""Digits after the point, by unit: a tenth of a micrometre or finer."""
_LINE_MM = 0.1
"""As thin a line as programs show; they cut along its middle whatever its width."""


def svg_cut(sheet: CutSheet, unit: str, words: Language) -> bytes:
    """Return the sheet as an SVG file whose user unit is one `unit` ("in" or "mm").

    Width and height carry the unit and agree with the viewBox. The group "cut" holds nothing but closed cuts,
    one group for each trim; guides and the size check are in groups of their own.
    """
    scale, decimals = PER_MM[unit], _DECIMALS[unit]
    width, height = (_number(side * scale, decimals) for side in (sheet.width_mm, sheet.height_mm))
    root = ElementTree.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "width": f"{width}{unit}",
            "height": f"{height}{unit}",
            "viewBox": f"0 0 {width} {height}",
            "fill": "none",
            "stroke-width": _number(_LINE_MM * scale, decimals),
        },
    )
    ElementTree.SubElement(root, "title").text = sheet.title
    if sheet.guides:
        guide = ElementTree.SubElement(root, "g", {"id": "guide", "stroke": "#3a7bd5"})
        ElementTree.SubElement(guide, "title").text = words.text("print.guide")
        strokes = "".join(_polyline(line * scale, decimals) for line in sheet.guides)
        ElementTree.SubElement(guide, "path", {"id": "guide-lines", "d": strokes})
    if sheet.size_check is not None:
        _add_group(root, sheet.size_check, scale, decimals, {"stroke": "#3a7bd5"})
    layer = ElementTree.SubElement(root, "g", {"id": "cut", "stroke": "#000000"})
    for group in sheet.groups:
        _add_group(layer, group, scale, decimals, {})
    return xml_file(root)


def _add_group(
    parent: ElementTree.Element, group: CutGroup, scale: float, decimals: int, style: dict[str, str]
) -> None:
    element = ElementTree.SubElement(parent, "g", {"id": group.name, **style})
    ElementTree.SubElement(element, "title").text = group.label
    for cut in group.cuts:
        path = {"id": cut.name, "d": _path(cut.outline, scale, decimals)}
        ElementTree.SubElement(element, "path", path)


def _path(outline: Outline, scale: float, decimals: int) -> str:
    cubics = np.round(outline.cubics * scale, decimals).tolist()
    start = cubics[0][0]
    parts = [f"M{_pair(start, decimals)}"]
    last = len(cubics) - 1
    for index, ((_, first, second, end), straight) in enumerate(zip(cubics, outline.straight, strict=True)):
        if not straight:
            parts.append(f"C{_pair(first, decimals)} {_pair(second, decimals)} {_pair(end, decimals)}")
        elif index != last:
            parts.append(f"L{_pair(end, decimals)}")
    return "".join([*parts, "Z"])


def _polyline(points: Floats, decimals: int) -> str:
    return "M" + "L".join(_pair(point, decimals) for point in points.tolist())


def _pair(point: list[float], decimals: int) -> str:
    return f"{_number(point[0], decimals)} {_number(point[1], decimals)}"


def _number(value: float, decimals: int) -> str:
    text = f"{value:.{decimals}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
