"""Readers of the written files that share nothing with the code that wrote them."""

import ctypes
import io
from dataclasses import dataclass
from xml.etree import ElementTree

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
import shapely
from shapely import Polygon
from svg.path import Line, parse_path

SVG = "{http://www.w3.org/2000/svg}"
MM_PER_UNIT = {"mm": 1.0, "in": 25.4}


@dataclass(frozen=True)
class SvgCuts:
    """The closed paths of each group of a cut file, in mm, by the groups' and paths' ids."""

    width_mm: float
    height_mm: float
    groups: dict[str, dict[str, Polygon]]
    curves: int


def read_svg_cuts(data: bytes, layer: str = "cut") -> SvgCuts:
    root = ElementTree.fromstring(data)
    unit = root.get("width")[-2:]
    width, height = (
        float(root.get(side).removesuffix(unit)) * MM_PER_UNIT[unit] for side in ("width", "height")
    )
    box = [float(part) for part in root.get("viewBox").split()]
    scale = width / box[2]
    assert box[:2] == [0, 0]
    assert np.isclose(scale, height / box[3], rtol=1e-6)
    (cut,) = (group for group in root.iter(f"{SVG}g") if group.get("id") == layer)
    groups, curves = {}, 0
    for group in cut.findall(f"{SVG}g") if layer == "cut" else [cut]:
        groups[group.get("id")] = {}
        for element in group.findall(f"{SVG}path"):
            path = parse_path(element.get("d"))
            curves += sum(type(segment).__name__ == "CubicBezier" for segment in path)
            groups[group.get("id")][element.get("id")] = Polygon(svg_ring(path) * scale)
    return SvgCuts(width, height, groups, curves)


def svg_ring(path) -> np.ndarray:
    assert type(path[-1]).__name__ == "Close"
    points = []
    for segment in path[1:]:
        steps = 1 if isinstance(segment, Line) else 24
        points += [segment.point(step / steps) for step in range(steps)]
    return np.array([(point.real, point.imag) for point in points])


@dataclass(frozen=True)
class PdfPage:
    """Paths (polylines) and words of a page in mm, y down, as the reader sees them."""

    width_mm: float
    height_mm: float
    paths: list[np.ndarray]
    words: list[tuple[str, tuple[float, float, float, float]]]


def read_pdf(data: bytes) -> list[PdfPage]:
    document = pypdfium2.PdfDocument(data)
    return [_page(document[index]) for index in range(len(document))]


def _page(page) -> PdfPage:
    mm = 25.4 / 72
    width, height = page.get_size()
    paths, words = [], []
    text_page = page.get_textpage()
    for thing in page.get_objects():
        if thing.type == pdfium.FPDF_PAGEOBJ_PATH:
            paths += [(0, height) * np.array([mm, mm]) + part * (mm, -mm) for part in _path(thing)]
        elif thing.type == pdfium.FPDF_PAGEOBJ_TEXT:
            left, bottom, right, top = thing.get_bounds()
            words.append(
                (
                    _text(thing, text_page),
                    (left * mm, (height - top) * mm, right * mm, (height - bottom) * mm),
                )
            )
    return PdfPage(width * mm, height * mm, paths, words)


def _path(thing) -> list[np.ndarray]:
    parts, points = [], []
    for index in range(pdfium.FPDFPath_CountSegments(thing)):
        segment = pdfium.FPDFPath_GetPathSegment(thing, index)
        x, y = ctypes.c_float(), ctypes.c_float()
        pdfium.FPDFPathSegment_GetPoint(segment, x, y)
        if pdfium.FPDFPathSegment_GetType(segment) == pdfium.FPDF_SEGMENT_MOVETO and points:
            parts.append(np.array(points))
            points = []
        points.append((x.value, y.value))
        if pdfium.FPDFPathSegment_GetClose(segment):
            points.append(points[0])
    return [*parts, np.array(points)]


def _text(thing, text_page) -> str:
    size = pdfium.FPDFTextObj_GetText(thing, text_page, None, 0)
    buffer = (ctypes.c_ushort * (size // 2))()
    pdfium.FPDFTextObj_GetText(thing, text_page, buffer, size)
    return bytes(buffer).decode("utf-16-le").rstrip("\0").strip()


def rastered(data: bytes, page: int, dots_per_inch: int = 600, foot_mm: float | None = None) -> np.ndarray:
    """Return a page, or so much of its foot, as darkness from 0 to 1, shape (height, width)."""
    shown = pypdfium2.PdfDocument(data)[page]
    above = 0 if foot_mm is None else shown.get_height() - foot_mm * 72 / 25.4
    bitmap = shown.render(scale=dots_per_inch / 72, grayscale=True, crop=(0, 0, 0, above))
    return 1 - bitmap.to_numpy().reshape(bitmap.height, -1)[:, : bitmap.width] / 255


def deviation(one: Polygon, other: Polygon) -> float:
    """Return how far two outlines lie apart at most, both ways, to a micrometre."""
    fine = [shapely.segmentize(shape.exterior, 0.05) for shape in (one, other)]
    return max(
        shapely.distance(shapely.points(shapely.get_coordinates(fine[0])), other.exterior).max(),
        shapely.distance(shapely.points(shapely.get_coordinates(fine[1])), one.exterior).max(),
    )


def as_file(data: bytes) -> io.BytesIO:
    return io.BytesIO(data)
