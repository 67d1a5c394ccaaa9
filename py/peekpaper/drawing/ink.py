"""All that a renderer would paint, as one area."""

import shapely

from peekpaper.drawing.areas.valid_areas import NOTHING, intersect, join
from peekpaper.drawing.drawing import Area, Drawing

FAINTEST = 16 / 255
"""Paint with no more opacity than this can't be told from none."""


def ink(drawing: Drawing) -> Area:
    """Return the union of all painted areas of a drawing, cut off at the page's edges, in CSS px."""
    areas = [
        paint.area
        for shape in drawing.shapes
        for paint in (shape.fill, shape.stroke)
        if paint is not None and paint.alpha > FAINTEST
    ]
    if not areas:
        return NOTHING
    return intersect(join(areas), shapely.box(0, 0, drawing.width, drawing.height))
