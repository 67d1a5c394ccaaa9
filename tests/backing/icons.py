"""Real designs: icons of an openly licensed set as holes in a frame.

The set is `@mdi/svg` of the npm registry, Apache License 2.0; npm fetches it once into the cache.
"""

import io
import tarfile
from functools import cache

import shapely
from panels import design_of
from shapely import affinity

from peekpaper.design.design import Design
from peekpaper.drawing.read import read_drawing
from workshop.runtime.download import from_npm
from workshop.runtime.pins import Pin

ICONS = Pin(
    "@mdi/svg",
    "7.4.47",
    "mdi-svg-7.4.47.tgz",
    "de92e5dc9ce46c392ab5c53aa7190b19f82b40cb48872a083f788c7e13e91fef",
)
NAMES = ("spider-web", "web", "fruit-grapes", "dharmachakra", "basketball", "turtle", "hops", "sail-boat")
RIM = 2.0


@cache
def _archive() -> tarfile.TarFile:
    return tarfile.open(fileobj=io.BytesIO(from_npm(ICONS)))


def icon_panel(name: str, width_mm: float = 150.0) -> Design:
    """Return a square card of that width with the icon cut out of it."""
    file = _archive().extractfile(f"package/svg/{name}.svg")
    assert file is not None
    drawing = read_drawing(file.read(), 0.01)
    ink = shapely.union_all([shape.fill.area for shape in drawing.shapes if shape.fill])
    frame = shapely.box(-RIM, -RIM, drawing.width + RIM, drawing.height + RIM)
    card = frame.difference(ink)
    scale = width_mm / (drawing.width + 2 * RIM)
    return design_of(affinity.scale(card, scale, scale, origin=(0, 0)))
