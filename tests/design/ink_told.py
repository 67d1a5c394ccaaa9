"""How much of what a renderer paints of a file its design makes nothing of, and does not tell of either."""

import gzip
import io
import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np
import resvg_py
import shapely
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFilter
from shapely.geometry.base import BaseGeometry

from peekpaper.design.design import Design
from peekpaper.drawing.drawing import Drawing

TOLD = {
    "not-read",
    "left-out",
    "border-left-out",
    "not-cut",
    "open-contours",
    "doubled-contours",
    "crossing-contours",
    "gaps-closed",
    "slivers",
}
"""Warnings that tell of what is drawn and does not become card or opening as it is."""

_WIDTH = 600
_SEEN = 60
"""Colours that differ by more than this, of 255, in any part are two to the eye (from memory)."""
_MOST_OF_RIM = 0.9
"""A colour along this share of the page's rim is what lies behind the design."""
_BESIDE = 3
"""Pixels that edges may be apart: those of anti-aliasing, and 2/1000 of the diagonal, one to the eye."""

Pixels = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class WithoutAWord:
    """Shares of the ink, and of its edges, that are neither card nor opening nor told of.

    Ink in an opening counts as explained, since the opening stands for it; a picture within one has edges of
    its own, which do not.
    """

    ink: float
    edges: float


def without_a_word(svg: bytes, drawing: Drawing, design: Design) -> WithoutAWord:
    """Return what a design loses silently of its file, as the renderer paints that."""
    colours = _painted(svg)
    ink = _ink(colours)
    edges = ink & ~_shrunk(ink) & _is_sharp(colours)
    canvas = _Canvas.of(ink.shape, drawing, design)
    ink, edges = np.pad(ink, _BESIDE), np.pad(edges, _BESIDE)
    card = [design.card, *(bit.area for bit in design.loose_bits)]
    told = [each.where for each in design.warnings if each.code in TOLD and each.where is not None]
    openings = [opening.area for opening in design.openings]
    # Openings apart, since what a loose bit goes around lies in one.
    known = canvas.areas(card) | canvas.areas(openings) | canvas.areas(told)
    kept = canvas.edges(card) | canvas.edges(told) | canvas.areas(told)
    return WithoutAWord(_share(ink & ~_grown(known), ink), _share(edges & ~_grown(kept), edges))


def _painted(svg: bytes) -> NDArray[np.float64]:
    """Return the colours (rows, columns, 3), from 0 to 255, that the renderer paints on white."""
    text = gzip.decompress(svg) if svg.startswith(b"\x1f\x8b") else svg
    png = resvg_py.svg_to_bytes(
        svg_string=text.decode("utf8", "replace"), width=_WIDTH, skip_system_fonts=True, dpi=96
    )
    pixels = np.asarray(Image.open(io.BytesIO(png)).convert("RGBA")).astype(float)
    opacity = pixels[..., 3:] / 255
    painted: NDArray[np.float64] = pixels[..., :3] * opacity + 255 * (1 - opacity)
    return painted


def _ink(colours: NDArray[np.float64]) -> Pixels:
    """Return the pixels that differ from what lies behind the design."""
    rim = np.concatenate([colours[0], colours[-1], colours[:, 0], colours[:, -1]])
    behind = np.median(rim, axis=0)
    if np.mean(_differ(rim, behind)) > 1 - _MOST_OF_RIM:
        behind = np.full(3, 255.0)
    return _differ(colours, behind)


def _is_sharp(colours: NDArray[np.float64]) -> Pixels:
    """Tell where colours change within a pixel or two: where a gradient ends nobody sees an edge."""
    image = Image.fromarray(colours.astype(np.uint8))
    brightest, darkest = image.filter(ImageFilter.MaxFilter(3)), image.filter(ImageFilter.MinFilter(3))
    return _differ(np.asarray(brightest).astype(float), np.asarray(darkest).astype(float))


def _differ(colours: NDArray[np.float64], other: NDArray[np.float64]) -> Pixels:
    differ: Pixels = np.abs(colours - other).max(axis=-1) > _SEEN
    return differ


@dataclass(frozen=True, slots=True)
class _Canvas:
    """Pixels (rows, columns) that geometry in mm is drawn on where the renderer has it, with a rim."""

    rows: int
    columns: int
    place: Callable[[NDArray[np.float64]], NDArray[np.float64]]

    @classmethod
    def of(cls, shape: tuple[int, ...], drawing: Drawing, design: Design) -> "_Canvas":
        rows, columns = shape
        # The renderer rounds the page to whole px before it makes it larger.
        scale = columns / max(1, math.floor(drawing.width + 0.5))

        def place(points: NDArray[np.float64]) -> NDArray[np.float64]:
            pixels: NDArray[np.float64] = (
                (points / design.mm_per_px + design.origin_px) * scale - 0.5 + _BESIDE
            )
            return pixels

        return cls(rows + 2 * _BESIDE, columns + 2 * _BESIDE, place)

    def areas(self, geometries: Iterable[BaseGeometry]) -> Pixels:
        """Return the pixels within areas, the larger ones first, since others lie in their holes."""
        image, draw = self._blank()
        parts = [part for part in shapely.get_parts(list(geometries)) if part.geom_type == "Polygon"]
        for part in sorted(parts, key=lambda part: -shapely.box(*part.bounds).area):
            draw.polygon(self._pixels(part.exterior), fill=255)
            for hole in part.interiors:
                draw.polygon(self._pixels(hole), fill=0)
        return np.asarray(image) > 0

    def edges(self, geometries: Iterable[BaseGeometry]) -> Pixels:
        """Return the pixels along the rings of areas, and along lines."""
        image, draw = self._blank()
        for part in shapely.get_parts(list(geometries)):
            for line in shapely.get_parts(part.boundary if part.geom_type == "Polygon" else part):
                draw.line(self._pixels(line), fill=255)
        return np.asarray(image) > 0

    def _blank(self) -> tuple[Image.Image, ImageDraw.ImageDraw]:
        image = Image.new("L", (self.columns, self.rows), 0)
        return image, ImageDraw.Draw(image)

    def _pixels(self, line: BaseGeometry) -> list[tuple[float, float]]:
        return [tuple(point) for point in self.place(shapely.get_coordinates(line)).tolist()]


def _grown(pixels: Pixels) -> Pixels:
    return np.asarray(Image.fromarray(pixels).convert("L").filter(ImageFilter.MaxFilter(2 * _BESIDE + 1))) > 0


def _shrunk(pixels: Pixels) -> Pixels:
    return np.asarray(Image.fromarray(pixels).convert("L").filter(ImageFilter.MinFilter(3))) > 0


def _share(part: Pixels, whole: Pixels) -> float:
    every = int(np.count_nonzero(whole))
    return int(np.count_nonzero(part)) / every if every else 0.0
