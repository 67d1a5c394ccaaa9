"""Which openings a drawn outline takes in."""

import shapely

from peekpaper.design.design import Design

Outline = tuple[tuple[float, float], ...]


def openings_inside(design: Design, outline: Outline) -> tuple[int, ...]:
    """Return the numbers of the openings whose middle lies in a drawn outline (mm), a box or a lasso.

    The outline closes itself and may cross itself; with fewer than three points nothing is inside.
    """
    if len(outline) < 3:
        return ()
    drawn = shapely.make_valid(shapely.Polygon(outline))
    middles = shapely.points([opening.area.representative_point().coords[0] for opening in design.openings])
    inside = shapely.intersects(drawn, middles)
    return tuple(opening.number for opening, is_in in zip(design.openings, inside, strict=True) if is_in)
