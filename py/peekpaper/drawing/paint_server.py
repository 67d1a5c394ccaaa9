"""What the colour of a gradient comes down to, for those who want geometry."""

from xml.etree.ElementTree import Element

from peekpaper.drawing.cascade import Cascade
from peekpaper.drawing.colour import Colour
from peekpaper.drawing.document import Document, link, local_name
from peekpaper.drawing.style import INITIAL, compute_style

GRADIENTS = frozenset({"linearGradient", "radialGradient"})


def gradient_colour(gradient: Element, document: Document, cascade: Cascade) -> Colour | None:
    """Return the strongest stop of a gradient, or None where it has no stops and so paints nothing.

    Stops may come from another gradient that this one points to (SVG 1.1, 13.2.2).
    """
    seen: set[Element] = set()
    current: Element | None = gradient
    while current is not None and current not in seen:
        seen.add(current)
        stops = [stop for stop in current if local_name(stop) == "stop"]
        if stops:
            colours = [_stop_colour(stop, current, cascade) for stop in stops]
            return max(colours, key=lambda colour: colour.alpha)
        address = link(current) or ""
        current = document.by_id.get(address[1:]) if address.startswith("#") else None
        if current is not None and local_name(current) not in GRADIENTS:
            return None
    return None


def fits_bounding_box(gradient: Element, document: Document) -> bool:
    """Tell whether a gradient's units are the painted shape's bounding box (the initial value)."""
    seen: set[Element] = set()
    current: Element | None = gradient
    while current is not None and current not in seen:
        seen.add(current)
        units = current.get("gradientUnits")
        if units in ("userSpaceOnUse", "objectBoundingBox"):
            return units == "objectBoundingBox"
        address = link(current) or ""
        current = document.by_id.get(address[1:]) if address.startswith("#") else None
    return True


def _stop_colour(stop: Element, gradient: Element, cascade: Cascade) -> Colour:
    around = compute_style(INITIAL, cascade.declarations(gradient), INITIAL.font_size)
    style = compute_style(around, cascade.declarations(stop), INITIAL.font_size)
    colour = style.stop_color if isinstance(style.stop_color, Colour) else style.color
    return colour._replace(alpha=colour.alpha * style.stop_opacity)
