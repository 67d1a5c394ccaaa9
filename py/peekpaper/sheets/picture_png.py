"""Pictures as PNG, drawn without a renderer or a font so that every computer makes the same."""

import struct
import zlib

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiLineString, MultiPolygon, Polygon
from shapely.ops import substring

from peekpaper.lengths import MM_PER_INCH
from peekpaper.sheets.colours import channels
from peekpaper.sheets.coverage import coverage
from peekpaper.sheets.lettering import lettered, lettered_width
from peekpaper.sheets.outline import Floats
from peekpaper.sheets.picture import Anchor, Area, Mark, Picture, Stroke, Words

Pixels = NDArray[np.uint8]

_PEN = {False: 0.10, True: 0.17}
"""Width of the pen as a part of the height of the capitals, by whether the text is bold."""


def picture_png(picture: Picture, dots_per_inch: float = 200.0) -> bytes:
    """Return the picture as a PNG file that tells its true size."""
    scale = dots_per_inch / MM_PER_INCH
    width, height = (max(1, round(side * scale)) for side in (picture.width_mm, picture.height_mm))
    pixels = np.full((height, width, 3), 255, dtype=np.uint8)
    for mark in picture.marks:
        _paint(pixels, _rings(mark, scale), channels(_colour(mark)))
    return _png(pixels, dots_per_inch)


def _colour(mark: Mark) -> str:
    return mark.fill if isinstance(mark, Area) else mark.colour


def _rings(mark: Mark, scale: float) -> list[Floats]:
    """Return the outlines of a mark in pixels, to be filled by the even-odd rule."""
    match mark:
        case Area():
            return [ring * scale for ring in mark.rings]
        case Stroke():
            lines = [dash for line in mark.lines for dash in _dashes(line * scale, mark.dash_mm * scale)]
            return _pen(lines, max(mark.width_mm * scale, 1.0))
        case Words():
            width = lettered_width(mark.text, mark.cap_height)
            shift = {Anchor.START: 0.0, Anchor.MIDDLE: width / 2, Anchor.END: width}[mark.anchor]
            strokes = lettered(mark.text, mark.x - shift, mark.y, mark.cap_height, centred=False)
            pen = max(mark.cap_height * scale * _PEN[mark.bold], 1.0)
            return _pen([stroke * scale for stroke in strokes], pen)


def _pen(lines: list[Floats], width: float) -> list[Floats]:
    """Return the outlines of what a round pen of `width` leaves on the lines."""
    drawn = shapely.buffer(MultiLineString([line for line in lines if len(line) > 1]), width / 2, quad_segs=4)
    parts: list[Polygon] = list(drawn.geoms) if isinstance(drawn, MultiPolygon) else [drawn]
    return [
        shapely.get_coordinates(ring)
        for part in parts
        if not part.is_empty
        for ring in (part.exterior, *part.interiors)
    ]


def _dashes(line: Floats, dash: float) -> list[Floats]:
    if dash <= 0:
        return [line]
    path = shapely.LineString(line)
    starts = np.arange(0, path.length, 2 * dash)
    ends = np.minimum(starts + dash, path.length)
    return [
        shapely.get_coordinates(substring(path, start, end)) for start, end in zip(starts, ends, strict=True)
    ]


def _paint(pixels: Pixels, rings: list[Floats], colour: tuple[int, int, int]) -> None:
    """Lay a colour over the pixels that the rings enclose, touching no others."""
    if not rings:
        return
    points = np.concatenate(rings)
    height, width = pixels.shape[:2]
    left, top = np.clip(np.floor(points.min(axis=0)), 0, (width, height)).astype(int)
    right, bottom = np.clip(np.ceil(points.max(axis=0)), 0, (width, height)).astype(int)
    if left >= right or top >= bottom:
        return
    mask = coverage([ring - (left, top) for ring in rings], right - left, bottom - top)[:, :, None]
    part = pixels[top:bottom, left:right]
    part[...] = np.rint(part + (np.array(colour, dtype=np.float32) - part) * mask)


def _png(pixels: Pixels, dots_per_inch: float) -> bytes:
    """Return RGB pixels as a PNG file (W3C, Portable Network Graphics, second edition)."""
    height, width = pixels.shape[:2]
    rows = np.zeros((height, 1 + 3 * width), dtype=np.uint8)
    rows[:, 1:] = pixels.reshape(height, 3 * width)
    dots_per_metre = round(dots_per_inch / MM_PER_INCH * 1000)
    chunks = (
        (b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)),
        (b"pHYs", struct.pack(">IIB", dots_per_metre, dots_per_metre, 1)),
        (b"IDAT", zlib.compress(rows.tobytes(), 6)),
        (b"IEND", b""),
    )
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
        for kind, body in chunks
    )
