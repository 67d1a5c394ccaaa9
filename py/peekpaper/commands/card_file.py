"""The card of a design as an SVG file: filled areas at true size, which any reader takes for card again."""

import shapely

from peekpaper.design.design import Design

_DECIMALS = 4


def card_file(design: Design) -> bytes:
    """Return a design's card, with the loose bits that are to be glued on, as an SVG file in mm."""
    areas = [*design.card.geoms, *(bit.area for bit in design.loose_bits)]
    rings = "".join(map(_ring, shapely.get_rings(areas)))
    width, height = (f"{side:.{_DECIMALS}f}" for side in (design.width_mm, design.height_mm))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}"><path fill-rule="evenodd" d="{rings}"/></svg>\n'
    ).encode()


def _ring(ring: shapely.LinearRing) -> str:
    nodes = shapely.get_coordinates(ring)[:-1].round(_DECIMALS).tolist()
    return "M" + "L".join(f"{x:g} {y:g}" for x, y in nodes) + "Z"
