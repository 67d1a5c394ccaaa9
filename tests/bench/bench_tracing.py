"""How true designs come back from pictures of them: drawn at 300 and 600 dpi, and photos made from these.

The renderer is resvg, which shares nothing with this project; the truth is the file's own ink. Each design is
100 mm along its longer side. Files in ../shared/svg-suite are taken along where that folder is.
"""

import io
import sys
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

import cv2
import numpy as np
import resvg_py
import shapely
from numpy.typing import NDArray
from PIL import Image

sys.path.insert(0, str(Path(__file__).parents[1] / "drawing"))

from icon_sets import all_icons

from both_sides import both_sides
from peekpaper.drawing.ink import ink
from peekpaper.drawing.read import read_drawing
from peekpaper.geometry.fitting.curves import fit_outlines
from peekpaper.geometry.overlay import polygons_of
from peekpaper.refusal import Refusal
from peekpaper.tracing.choices import TracingChoices
from peekpaper.tracing.trace import Tracing, trace
from table import Row, peak_memory_mb

SUITE = Path(__file__).parents[3] / "shared" / "svg-suite" / "cases"
SIDE_MM = 100.0
EVERY_ICON, EVERY_CASE = 60, 3
FAINT, SOLID = 16, 240
MOST_FAINT = 0.02
"""Ink that is see-through over more than this share of the page is no ink that a pen leaves."""

Pixels = NDArray[np.uint8]


@dataclass(frozen=True, slots=True, eq=False)
class Case:
    """A design's ink in mm, the bounds of its page, and its file."""

    name: str
    svg: str
    card: shapely.Geometry
    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came back: as many openings or not, the Hausdorff distance in mm, the share of nodes."""

    same_openings: bool
    distance_mm: float
    nodes: float


def cases() -> Iterator[Case]:
    """Yield icons and, where they are at hand, cases of the suite that paint something opaque."""
    files = [(name, data) for name, data in all_icons()[::EVERY_ICON]]
    files += [(path.name, path.read_bytes()) for path in sorted(SUITE.rglob("*.svg"))[::EVERY_CASE]]
    for name, data in files:
        try:
            drawing = read_drawing(data, 0.002)
            card = ink(drawing)
        except Refusal:
            continue
        scale = SIDE_MM / max(drawing.width, drawing.height)
        card = shapely.transform(card, lambda points, scale=scale: points * scale)
        if not card.is_empty:
            yield Case(
                name, data.decode(errors="replace"), card, drawing.width * scale, drawing.height * scale
            )


def drawn(case: Case, dpi: float) -> Pixels | None:
    """Return a rendering in black on white, RGBA; None where the ink is see-through."""
    width = round(case.width_mm / 25.4 * dpi)
    try:
        png = resvg_py.svg_to_bytes(svg_string=case.svg, width=width, skip_system_fonts=True, dpi=96)
    except ValueError:
        return None
    cover = np.asarray(Image.open(io.BytesIO(bytes(png))).convert("RGBA"))[..., 3]
    inner = cv2.erode(cover, np.ones((5, 5), np.uint8))
    if (
        np.mean((inner > FAINT) & (inner < SOLID)) > MOST_FAINT * np.mean(cover > FAINT)
        or not (cover > SOLID).any()
    ):
        return None
    grey = 255 - cover
    return np.dstack([grey, grey, grey, np.full_like(grey, 255)])


def photographed(picture: Pixels, seed: int) -> tuple[Pixels, tuple[tuple[float, float], ...]]:
    """Return a phone's photo of a sheet with the picture on it, and where the sheet's corners are in it.

    Seen askew, lit from one side, darker towards the rim, with the softness and grain of a sensor, as JPEG.
    """
    chance = np.random.default_rng(seed)
    height, width = picture.shape[:2]
    edge = round(0.08 * max(width, height))
    paper = 40 + picture[..., :3].astype(np.float32) * ((235 - 40) / 255)
    outer = np.array([[0, 0], [width, 0], [width, height], [0, height]], dtype=np.float32)
    room = 0.05 * max(width, height)
    inner = outer + edge + chance.uniform(-room, room, (4, 2)).astype(np.float32)
    size = (width + 2 * edge, height + 2 * edge)
    seen = cv2.warpPerspective(
        paper,
        cv2.getPerspectiveTransform(outer, inner),
        size,
        flags=cv2.INTER_AREA,
        borderValue=(70, 90, 110),
    )
    x, y = np.meshgrid(np.linspace(-1, 1, size[0]), np.linspace(-1, 1, size[1]))
    turn = chance.uniform(0, 2 * np.pi)
    light = 0.8 + 0.25 * (x * np.cos(turn) + y * np.sin(turn)) - 0.12 * (x**2 + y**2)
    seen = cv2.GaussianBlur(seen, (0, 0), 0.8) * light[..., None]
    seen += chance.normal(0, 5, seen.shape)
    _, packed = cv2.imencode(".jpg", np.clip(seen, 0, 255).astype(np.uint8), [cv2.IMWRITE_JPEG_QUALITY, 85])
    unpacked = cv2.cvtColor(cv2.imdecode(packed, cv2.IMREAD_COLOR), cv2.COLOR_BGR2RGBA)
    return unpacked, tuple((float(px), float(py)) for px, py in inner)


def outcome(case: Case, tracing: Tracing, speck_mm: float) -> Outcome:
    """Compare what came back with what was drawn, but for what is smaller than a speck."""
    scale = case.width_mm / tracing.width
    rings = [outline.sampled(0.05) * scale for outline in tracing.outlines]
    lines = [shapely.LinearRing(ring) for ring in rings if len(ring) > 3]
    back = shapely.build_area(shapely.MultiLineString([line.coords for line in lines]))
    true_rings = [
        ring
        for ring in shapely.get_rings(shapely.get_parts(case.card))
        if shapely.Polygon(ring).area > np.pi / 4 * speck_mm**2
    ]
    distance = shapely.hausdorff_distance(shapely.MultiLineString(lines), shapely.MultiLineString(true_rings))
    needed = sum(
        len(outline.straight)
        for outline in fit_outlines([shapely.get_coordinates(ring) for ring in true_rings])
    )
    got = sum(len(outline.straight) for outline in tracing.outlines)
    return Outcome(
        openings(back, 0.0) == openings(case.card, np.pi / 4 * speck_mm**2), distance, got / max(needed, 1)
    )


def openings(card: shapely.Geometry, least: float) -> int:
    """Return how many holes a card has that are larger than `least` mm2."""
    return sum(shapely.Polygon(hole).area > least for part in polygons_of(card) for hole in part.interiors)


def traced(picture: Pixels, choices: TracingChoices) -> Tracing:
    """Return the tracing of a picture."""
    *_, found = trace(picture, choices)
    assert found is not None
    return found


def main() -> Iterable[Row]:
    """Yield a row for each figure."""
    everything = list(cases())
    for dpi in (300, 600):
        found = []
        for case in everything:
            picture = drawn(case, dpi)
            if picture is not None:
                choices = TracingChoices(width_mm=case.width_mm)
                found.append(outcome(case, traced(picture, choices), choices.speck_mm))
        yield from _rows(f"drawn at {dpi} dpi", found, 99.0)
    found = []
    for seed, case in enumerate(everything[::2]):
        picture = drawn(case, 300)
        if picture is not None:
            photo, corners = photographed(picture, seed)
            choices = TracingChoices(width_mm=case.width_mm, height_mm=case.height_mm, corners=corners)
            found.append(outcome(case, traced(photo, choices), choices.speck_mm))
    yield from _rows("photographed", found, 90.0)
    yield from both_sides("tracing")
    yield Row("tracing", "memory at most", peak_memory_mb(), "MB")


def _rows(name: str, found: list[Outcome], least: float) -> Iterable[Row]:
    note = f"{len(found)} icons and cases of the suite, 100 mm along the longer side"
    same = 100 * float(np.mean([each.same_openings for each in found]))
    yield Row("tracing", f"as many openings, {name}", same, "%", target=least, at_least=True, note=note)
    distance = float(np.median([each.distance_mm for each in found]))
    yield Row("tracing", f"Hausdorff distance, {name}", distance, "mm", target=0.15, note="median")
    nodes = float(np.median([each.nodes for each in found]))
    yield Row(
        "tracing", f"nodes, {name}", nodes, "", target=1.5, note="median share of the fitted true outline's"
    )


if __name__ == "__main__":
    from table import table

    print(table(main()))
