"""Pictures of a panel that is known exactly, drawn by an independent renderer (resvg)."""

import io

import cv2
import numpy as np
import resvg_py
import shapely
from numpy.typing import NDArray
from PIL import Image

from peekpaper.tracing.choices import TracingChoices
from peekpaper.tracing.trace import Tracing, trace

WIDTH_MM, HEIGHT_MM = 60, 40
CORNERS = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))

PANEL = (
    "M3 3H57V37H3Z"  # the sheet
    "M8 8H22V18H8Z"  # a square-cornered opening
    "M42 13a8 8 0 1 0-16 0a8 8 0 1 0 16 0Z"  # a round one
    "M10 33L16 22L22 33Z"  # one with sharp corners
    "M30 30c4-8 14-8 18 0c-4 6-14 6-18 0Z"  # a leaf
)


def panel_card() -> shapely.Polygon:
    """The panel's card in mm, by shapely alone: its curves as a thousand chords."""
    turns = np.linspace(0, 2 * np.pi, 1000)
    leaf = [_cubic((30, 30), (34, 22), (44, 22), (48, 30)), _cubic((48, 30), (44, 36), (34, 36), (30, 30))]
    openings = [
        shapely.box(8, 8, 22, 18),
        shapely.Polygon(np.stack([34 + 8 * np.cos(turns), 13 + 8 * np.sin(turns)], axis=1)),
        shapely.Polygon([(10, 33), (16, 22), (22, 33)]),
        shapely.Polygon(np.vstack(leaf)),
    ]
    return shapely.box(3, 3, 57, 37).difference(shapely.union_all(openings))


def _cubic(*controls: tuple[float, float]) -> NDArray[np.float64]:
    at = np.linspace(0, 1, 500)[:, None]
    a, b, c, d = (np.array(control) for control in controls)
    return (1 - at) ** 3 * a + 3 * (1 - at) ** 2 * at * b + 3 * (1 - at) * at**2 * c + at**3 * d


def drawn(
    dpi: float = 300, ink: str = "#000", ground: str | None = "#fff", extra: str = ""
) -> NDArray[np.uint8]:
    """The panel as RGBA px."""
    back = f'<rect width="60" height="40" fill="{ground}"/>' if ground else ""
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="60" height="40" viewBox="0 0 60 40">'
        f'{back}<path fill="{ink}" fill-rule="evenodd" d="{PANEL}"/>{extra}</svg>'
    )
    png = resvg_py.svg_to_bytes(svg_string=svg, width=round(60 / 25.4 * dpi), skip_system_fonts=True)
    return np.array(Image.open(io.BytesIO(bytes(png))).convert("RGBA"))


def traced(picture: NDArray[np.uint8], choices: TracingChoices) -> Tracing:
    *_, found = trace(picture, choices)
    assert found is not None
    return found


def card_of(tracing: Tracing, width_mm: float = WIDTH_MM) -> shapely.Geometry:
    """What came back, in mm."""
    scale = width_mm / tracing.width
    rings = [shapely.LinearRing(outline.sampled(0.02) * scale) for outline in tracing.outlines]
    return shapely.build_area(shapely.MultiLineString(rings))


def apart(card: shapely.Geometry) -> float:
    """How far the panel's and a card's edges are apart at most, in mm."""
    return float(shapely.hausdorff_distance(card.boundary, panel_card().boundary))


def photographed(
    picture: NDArray[np.uint8], inner: tuple[tuple[float, float], ...], size: tuple[int, int]
) -> NDArray[np.uint8]:
    """A sheet seen askew, its corners at `inner`, in light that fades to a third, with grain, as JPEG."""
    height, width = picture.shape[:2]
    outer = np.array([[0, 0], [width, 0], [width, height], [0, height]], dtype=np.float32)
    matrix = cv2.getPerspectiveTransform(outer, np.array(inner, dtype=np.float32))
    paper = 35 + picture[..., :3].astype(np.float32) * 0.8
    seen = cv2.warpPerspective(paper, matrix, size, flags=cv2.INTER_AREA, borderValue=(60, 80, 100))
    light = np.linspace(1.05, 0.35, size[0])[None, :, None]
    seen = cv2.GaussianBlur(seen, (0, 0), 0.8) * light + np.random.default_rng(1).normal(0, 4, seen.shape)
    _, packed = cv2.imencode(".jpg", np.clip(seen, 0, 255).astype(np.uint8), [cv2.IMWRITE_JPEG_QUALITY, 85])
    return cv2.cvtColor(cv2.imdecode(packed, cv2.IMREAD_COLOR), cv2.COLOR_BGR2RGBA)
