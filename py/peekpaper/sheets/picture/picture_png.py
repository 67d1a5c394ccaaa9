"""Pictures as PNG, drawn without a renderer or a font so that every computer makes the same."""

import math
import struct
import zlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from peekpaper.geometry.affine import back, moved
from peekpaper.geometry.outline import Floats
from peekpaper.geometry.polyline import points_at
from peekpaper.geometry.vectors import norms, unit
from peekpaper.lengths import MM_PER_INCH
from peekpaper.sheets.picture.colours import channels
from peekpaper.sheets.picture.coverage import coverage
from peekpaper.sheets.picture.lettering import lettered, lettered_width
from peekpaper.sheets.picture.picture import Anchor, Area, Mark, Pattern, Picture, Stroke, Words

Pixels = NDArray[np.uint8]
Ink = Callable[[int, int, int, int], Sequence[int] | NDArray[np.float32]]
"""Red, green and blue of a box of pixels (left, top, right, bottom): whole numbers, or planes (h, w)."""

_MOST_PIXELS = 1600
"""Along the longer side: sharp on a tablet, and light enough to send."""

_DISC_SIDES = 12
"""Sides of the polygon that stands for the round end of a line."""
_BROAD = 1.6
"""Pens at least as wide as this, in pixels, are seen to be round."""

_UNSEEN = 0.002
"""A pixel covered less than this stays as it is."""

_PEN = {False: 0.10, True: 0.17}
"""Width of the pen as a part of the height of the capitals, by whether the text is bold."""


def picture_png(picture: Picture, dots_per_inch: float = 200.0) -> bytes:
    """Return the picture as a PNG file that tells its true size, coarser where it would grow too large."""
    longest = max(picture.width_mm, picture.height_mm) / MM_PER_INCH
    dots_per_inch = min(dots_per_inch, _MOST_PIXELS / longest)
    scale = dots_per_inch / MM_PER_INCH
    width, height = (max(1, round(side * scale)) for side in (picture.width_mm, picture.height_mm))
    planes = np.full((3, height, width), 255, dtype=np.uint8)
    for ink, marks in groupby(picture.marks, _ink):
        # Marks of one colour in a row are laid down at one go.
        edges = _edges(list(marks), scale)
        if isinstance(ink, Pattern):
            _paint(planes, edges, lambda *box, ink=ink: _sampled(ink, box, scale))
        else:
            colour = channels(ink)
            _paint(planes, edges, lambda *_, colour=colour: colour)
    return _png(planes, dots_per_inch)


def _ink(mark: Mark) -> str | Pattern:
    """Return the colour that a mark is laid down in, or the mark itself where it shows a pattern."""
    match mark:
        case Pattern() if mark.pixels is not None:
            return mark
        case Area():
            return mark.fill
        case _:
            return mark.colour


def _sampled(pattern: Pattern, box: tuple[int, int, int, int], scale: float) -> NDArray[np.float32]:
    """Return red, green and blue (3, h, w) of a pattern in a box of pixels, mixed from the nearest four."""
    assert pattern.pixels is not None
    left, top, right, bottom = box
    x, y = np.meshgrid(np.arange(left, right) + 0.5, np.arange(top, bottom) + 0.5)
    height, width, _ = pattern.pixels.shape
    on_paper = moved(np.stack([x, y], axis=-1) / scale, back(pattern.matrix))
    at = on_paper * (width / pattern.raster_width_mm) - 0.5
    first = np.floor(at).astype(int)
    part = (at - first).astype(np.float32)
    mixed = np.zeros((*x.shape, 3), dtype=np.float32)
    for across in (0, 1):
        for down in (0, 1):
            weight = np.abs(1 - across - part[..., 0]) * np.abs(1 - down - part[..., 1])
            seen = pattern.pixels[(first[..., 1] + down) % height, (first[..., 0] + across) % width]
            mixed += weight[..., None] * seen
    return np.moveaxis(mixed, -1, 0)


def _edges(marks: Sequence[Mark], scale: float) -> Floats:
    """Return the edges of the marks' rings in pixels, shape (n, 2, 2), all rings the same way round."""
    areas: list[Floats] = []
    drawn: list[_Drawn] = []
    dashed: list[Floats] = []
    for mark in marks:
        match mark:
            case Area():
                areas += [_forwards(ring * scale) for ring in mark.rings]
            case Stroke() if mark.dash_mm:
                dashes = [dash for line in mark.lines for dash in _dashes(line * scale, mark.dash_mm * scale)]
                width = max(mark.width_mm * scale, 1.0)
                dashed.append(_boxes(_steps(dashes), np.full(sum(map(len, dashes)) - len(dashes), width)))
            case Stroke():
                drawn += [_Drawn(line * scale, max(mark.width_mm * scale, 1.0)) for line in mark.lines]
            case Words():
                width = max(mark.cap_height * scale * _PEN[mark.bold], 1.0)
                drawn += [_Drawn(stroke * scale, width) for stroke in _letters(mark)]
    return np.concatenate([_steps(areas), *dashed, _pen(drawn)])


@dataclass(frozen=True, slots=True, eq=False)
class _Drawn:
    """A line of shape (k, 2) that a round pen of this width draws, in pixels."""

    line: Floats
    width: float


def _letters(words: Words) -> list[Floats]:
    length = lettered_width(words.text, words.cap_height)
    shift = {Anchor.START: 0.0, Anchor.MIDDLE: length / 2, Anchor.END: length}[words.anchor]
    turn = math.radians(words.turn_deg)
    turned = np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])
    level = lettered(words.text, -shift, 0.0, words.cap_height, centred=False)
    return [stroke @ turned + (words.x, words.y) for stroke in level]


def _steps(lines: Sequence[Floats]) -> Floats:
    """Return the edges from point to point of lines of shape (k, 2)."""
    if not lines:
        return np.empty((0, 2, 2))
    points = np.concatenate(lines)
    starts = np.delete(np.arange(len(points)), np.cumsum([len(line) for line in lines]) - 1)
    return np.stack([points[starts], points[starts + 1]], axis=1)


def _forwards(ring: Floats) -> Floats:
    """Return a ring so that it runs from x towards y."""
    x, y = ring.T
    return ring if (x[:-1] * y[1:] - x[1:] * y[:-1]).sum() > 0 else ring[::-1]


def _pen(drawn: Sequence[_Drawn]) -> Floats:
    """Return the edges of what pens leave: a box for each step, and a disc at each point of a broad pen.

    The boxes of a narrow pen reach half its width further instead, which looks the same.
    """
    narrow = [each for each in drawn if each.width < _BROAD]
    broad = [each for each in drawn if each.width >= _BROAD]
    return np.concatenate([_step_boxes(narrow, 0.5), _step_boxes(broad, 0.0), _discs(broad)])


def _step_boxes(drawn: Sequence[_Drawn], further: float) -> Floats:
    """Return the edges of the boxes of all steps, longer at both ends by `further` times the pen's width."""
    lengths = [len(each.line) - 1 for each in drawn]
    widths = np.repeat([each.width for each in drawn], lengths) if drawn else np.empty(0)
    return _boxes(_steps([each.line for each in drawn]), widths, further)


def _discs(drawn: Sequence[_Drawn]) -> Floats:
    """Return the edges of discs at all points of lines."""
    if not drawn:
        return np.empty((0, 2, 2))
    widths = np.repeat([each.width for each in drawn], [len(each.line) for each in drawn])
    angles = np.linspace(0, 2 * np.pi, _DISC_SIDES + 1)
    disc = np.column_stack([np.cos(angles), np.sin(angles)]) / 2
    rings = np.concatenate([each.line for each in drawn])[:, None] + widths[:, None, None] * disc
    return np.stack([rings[:, :-1], rings[:, 1:]], axis=2).reshape(-1, 2, 2)


def _boxes(steps: Floats, widths: Floats, further: float = 0.0) -> Floats:
    """Return the edges of boxes of these widths around steps, at both ends `further` widths longer."""
    starts, ends = steps[:, 0], steps[:, 1]
    along = ends - starts
    along = unit(along) * (widths / 2)[:, None]
    aside = np.column_stack([along[:, 1], -along[:, 0]])
    starts, ends = starts - 2 * further * along, ends + 2 * further * along
    corners = np.stack([starts + aside, ends + aside, ends - aside, starts - aside, starts + aside], axis=1)
    return np.stack([corners[:, :-1], corners[:, 1:]], axis=2).reshape(-1, 2, 2)


def _dashes(line: Floats, dash: float) -> list[Floats]:
    """Return the lines of length `dash` that remain of a line, with spaces as long between them."""
    along = np.append(0.0, np.cumsum(norms(np.diff(line, axis=0))))
    stops = np.union1d(along, np.arange(0.0, along[-1], dash))
    points = points_at(stops, along, line)
    number = np.floor((stops[:-1] + stops[1:]) / 2 / dash).astype(int)
    starts = np.flatnonzero(np.diff(number, prepend=-1))
    ends = np.append(starts[1:], len(number))
    return [
        points[start : end + 1] for start, end in zip(starts, ends, strict=True) if number[start] % 2 == 0
    ]


def _paint(planes: Pixels, edges: Floats, ink: Ink) -> None:
    """Lay ink over the part of three colour planes that rings of edges enclose."""
    _, height, width = planes.shape
    if not len(edges):
        return
    left, top = np.clip(np.floor(edges.min(axis=(0, 1))), 0, (width, height)).astype(int)
    right, bottom = np.clip(np.ceil(edges.max(axis=(0, 1))), 0, (width, height)).astype(int)
    mask = coverage(edges - (left, top), right - left, bottom - top)
    solid = mask > 1 - _UNSEEN
    rows, columns = np.nonzero((mask > _UNSEEN) & ~solid)
    weight = mask[rows, columns]
    for plane, channel in zip(planes[:, top:bottom, left:right], ink(left, top, right, bottom), strict=True):
        # Most pixels are within or without; only those on the rim are mixed.
        np.copyto(plane, channel, where=solid, casting="unsafe")
        under = plane[rows, columns].astype(np.float32)
        over = channel if isinstance(channel, int) else channel[rows, columns]
        plane[rows, columns] = under + (over - under) * weight + 0.5


def _png(planes: Pixels, dots_per_inch: float) -> bytes:
    """Return planes of red, green and blue as a PNG file (W3C, Portable Network Graphics, second edition)."""
    _, height, width = planes.shape
    rows = np.zeros((height, 1 + 3 * width), dtype=np.uint8)
    for channel, plane in enumerate(planes, 1):
        rows[:, channel::3] = plane
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
