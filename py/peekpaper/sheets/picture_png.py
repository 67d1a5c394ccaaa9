"""Pictures as PNG, drawn without a renderer or a font so that every computer makes the same."""

import struct
import zlib

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiLineString, MultiPolygon, Polygon
from shapely.geometry.polygon import orient

from peekpaper.lengths import MM_PER_INCH
from peekpaper.sheets.colours import channels
from peekpaper.sheets.coverage import Shares, coverage
from peekpaper.sheets.lettering import lettered, lettered_width
from peekpaper.sheets.outline import Floats
from peekpaper.sheets.picture import Anchor, Area, Mark, Picture, Stroke, Words

Pixels = NDArray[np.uint8]

_MOST_PIXELS = 2200
"""Along the longer side: sharp on a tablet, and light enough to send."""

_PEN = {False: 0.10, True: 0.17}
"""Width of the pen as a part of the height of the capitals, by whether the text is bold."""


def picture_png(picture: Picture, dots_per_inch: float = 200.0) -> bytes:
    """Return the picture as a PNG file that tells its true size, coarser where it would grow too large."""
    longest = max(picture.width_mm, picture.height_mm) / MM_PER_INCH
    dots_per_inch = min(dots_per_inch, _MOST_PIXELS / longest)
    scale = dots_per_inch / MM_PER_INCH
    width, height = (max(1, round(side * scale)) for side in (picture.width_mm, picture.height_mm))
    planes = np.full((3, height, width), 255, dtype=np.float32)
    for mark in picture.marks:
        for rings in _shapes(mark, scale):
            _paint(planes, rings, channels(_colour(mark)))
    return _png(np.moveaxis(np.rint(planes).astype(np.uint8), 0, 2), dots_per_inch)


def _colour(mark: Mark) -> str:
    return mark.fill if isinstance(mark, Area) else mark.colour


def _shapes(mark: Mark, scale: float) -> list[list[Floats]]:
    """Return the separate shapes of a mark in pixels, each as rings holes wound the other way round."""
    match mark:
        case Area():
            return [[ring * scale] for ring in mark.rings]
        case Stroke():
            width = max(mark.width_mm * scale, 1.0)
            lines = [line * scale for line in mark.lines]
            if not mark.dash_mm:
                return _pen(lines, width)
            return _thin([dash for line in lines for dash in _dashes(line, mark.dash_mm * scale)], width)
        case Words():
            length = lettered_width(mark.text, mark.cap_height)
            shift = {Anchor.START: 0.0, Anchor.MIDDLE: length / 2, Anchor.END: length}[mark.anchor]
            strokes = lettered(mark.text, mark.x - shift, mark.y, mark.cap_height, centred=False)
            pen = max(mark.cap_height * scale * _PEN[mark.bold], 1.0)
            return _pen([stroke * scale for stroke in strokes], pen)


def _pen(lines: list[Floats], width: float) -> list[list[Floats]]:
    """Return the shapes that a round pen of `width` leaves along the lines."""
    drawn = shapely.buffer(MultiLineString([line for line in lines if len(line) > 1]), width / 2, quad_segs=4)
    parts: list[Polygon] = list(drawn.geoms) if isinstance(drawn, MultiPolygon) else [drawn]
    return [
        [shapely.get_coordinates(ring) for ring in (part.exterior, *part.interiors)]
        for part in map(orient, parts)
        if not part.is_empty
    ]


def _dashes(line: Floats, dash: float) -> list[Floats]:
    """Return the lines of length `dash` that remain of a line, with spaces as long between them."""
    along = np.append(0.0, np.cumsum(np.hypot(*np.diff(line, axis=0).T)))
    stops = np.union1d(along, np.arange(0.0, along[-1], dash))
    points = np.column_stack([np.interp(stops, along, line[:, axis]) for axis in (0, 1)])
    number = np.floor((stops[:-1] + stops[1:]) / 2 / dash).astype(int)
    starts = np.flatnonzero(np.diff(number, prepend=-1))
    ends = np.append(starts[1:], len(number))
    return [
        points[start : end + 1] for start, end in zip(starts, ends, strict=True) if number[start] % 2 == 0
    ]


def _thin(lines: list[Floats], width: float) -> list[list[Floats]]:
    """Return short lines as one shape of boxes, blunt at their ends."""
    starts = np.concatenate([line[:-1] for line in lines])
    ends = np.concatenate([line[1:] for line in lines])
    steps = ends - starts
    aside = np.column_stack([-steps[:, 1], steps[:, 0]])
    aside *= width / 2 / np.maximum(np.hypot(*steps.T), 1e-9)[:, None]
    corners = (starts - aside, starts + aside, ends + aside, ends - aside, starts - aside)
    return [list(np.stack(corners, axis=1))]


def _paint(planes: Shares, rings: list[Floats], colour: tuple[int, int, int]) -> None:
    """Lay a colour over the part of three colour planes that the rings enclose."""
    points = np.concatenate(rings)
    _, height, width = planes.shape
    left, top = np.clip(np.floor(points.min(axis=0)), 0, (width, height)).astype(int)
    right, bottom = np.clip(np.ceil(points.max(axis=0)), 0, (width, height)).astype(int)
    if left >= right or top >= bottom:
        return
    mask = coverage([ring - (left, top) for ring in rings], right - left, bottom - top)
    for plane, channel in zip(planes, colour, strict=True):
        part = plane[top:bottom, left:right]
        part += (channel - part) * mask


def _png(pixels: Pixels, dots_per_inch: float) -> bytes:
    """Return RGB pixels as a PNG file (W3C, Portable Network Graphics, second edition)."""
    height, width = pixels.shape[:2]
    rows = np.zeros((height, 1 + 3 * width), dtype=np.uint8)
    rows[:, 1:] = pixels.reshape(height, 3 * width)
    dots_per_metre = round(dots_per_inch / MM_PER_INCH * 1000)
    chunks = (
        (b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)),
        (b"pHYs", struct.pack(">IIB", dots_per_metre, dots_per_metre, 1)),
        (b"IDAT", zlib.compress(rows.tobytes(), 5)),
        (b"IEND", b""),
    )
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
        for kind, body in chunks
    )
