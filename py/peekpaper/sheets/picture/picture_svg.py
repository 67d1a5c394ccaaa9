"""Pictures as SVG."""

from base64 import b64encode
from xml.etree import ElementTree

from peekpaper.geometry.outline import Floats
from peekpaper.sheets.picture.picture import Area, Mark, Pattern, Picture, Stroke, Words
from peekpaper.sheets.picture.typeface import CAP_HEIGHT
from peekpaper.sheets.xml_file import xml_file

_FONT = "Helvetica, Arial, 'Liberation Sans', sans-serif"


def picture_svg(picture: Picture) -> bytes:
    """Return the picture as an SVG file whose user unit is 1 mm."""
    width, height = f"{picture.width_mm:.3f}", f"{picture.height_mm:.3f}"
    root = ElementTree.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "xmlns:xlink": "http://www.w3.org/1999/xlink",
            "width": f"{width}mm",
            "height": f"{height}mm",
            "viewBox": f"0 0 {width} {height}",
            "font-family": _FONT,
            "stroke-linecap": "round",
            "stroke-linejoin": "round",
        },
    )
    ElementTree.SubElement(root, "title").text = picture.title
    ElementTree.SubElement(root, "rect", {"width": width, "height": height, "fill": "#ffffff"})
    papers: dict[int, str] = {}
    for mark in picture.marks:
        if isinstance(mark, Pattern) and mark.raster.filter == "DCTDecode":
            _add_pattern(root, mark, papers)
        else:
            _add(root, mark)
    return xml_file(root)


def _add_pattern(root: ElementTree.Element, mark: Pattern, papers: dict[int, str]) -> None:
    """Add areas that show a pattern; its picture stands in the file once, noted in `papers` by its name."""
    raster, width = mark.raster, f"{mark.raster_width_mm:.3f}"
    height = f"{mark.raster_width_mm * raster.height_px / raster.width_px:.3f}"
    if id(raster) not in papers:
        papers[id(raster)] = f"paper-{len(papers) + 1}"
        repeat = ElementTree.SubElement(
            root,
            "pattern",
            {
                "id": papers[id(raster)],
                "patternUnits": "userSpaceOnUse",
                "width": width,
                "height": height,
            },
        )
        shown = f"data:image/jpeg;base64,{b64encode(raster.data).decode()}"
        sides = {"width": width, "height": height, "preserveAspectRatio": "none"}
        ElementTree.SubElement(repeat, "image", {**sides, "xlink:href": shown})
    laid = f"laid-{len(root)}"
    matrix = " ".join(f"{number:.5g}" for number in mark.matrix.T.ravel())
    ElementTree.SubElement(
        root,
        "pattern",
        {"id": laid, "xlink:href": f"#{papers[id(raster)]}", "patternTransform": f"matrix({matrix})"},
    )
    path = "".join(f"{_path(ring[:-1])}Z" for ring in mark.rings)
    ElementTree.SubElement(root, "path", {"d": path, "fill": f"url(#{laid}) {mark.fill}"})


def _add(root: ElementTree.Element, mark: Mark) -> None:
    match mark:
        case Area():
            path = "".join(f"{_path(ring[:-1])}Z" for ring in mark.rings)
            ElementTree.SubElement(root, "path", {"d": path, "fill": mark.fill})
        case Stroke():
            attributes = {
                "d": "".join(_path(line) for line in mark.lines),
                "fill": "none",
                "stroke": mark.colour,
                "stroke-width": f"{mark.width_mm:.3f}",
            }
            if mark.dash_mm:
                attributes["stroke-dasharray"] = f"{mark.dash_mm:.3f}"
            ElementTree.SubElement(root, "path", attributes)
        case Words():
            attributes = {
                "x": f"{mark.x:.3f}",
                "y": f"{mark.y + mark.cap_height / 2:.3f}",
                "font-size": f"{mark.cap_height / CAP_HEIGHT:.3f}",
                "fill": mark.colour,
                "text-anchor": str(mark.anchor),
            }
            if mark.bold:
                attributes["font-weight"] = "bold"
            if mark.turn_deg:
                attributes["transform"] = f"rotate({mark.turn_deg:g} {mark.x:.3f} {mark.y:.3f})"
            ElementTree.SubElement(root, "text", attributes).text = mark.text


def _path(points: Floats) -> str:
    return "M" + "L".join(f"{x:.3f} {y:.3f}" for x, y in points.tolist())
