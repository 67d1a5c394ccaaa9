"""What gradients and patterns come down to, for those who want geometry."""

from collections.abc import Iterator
from xml.etree.ElementTree import Element

from peekpaper.drawing.css.colour import Colour
from peekpaper.drawing.css.style import PaintSource
from peekpaper.drawing.file.document import link, local_name
from peekpaper.drawing.tree.graphics_state import GraphicsState
from peekpaper.drawing.tree.shapes import SHAPES
from peekpaper.drawing.tree.walk import Walker

_GRADIENTS = frozenset({"linearGradient", "radialGradient"})
_SERVERS = _GRADIENTS | {"pattern"}


class PaintServers:
    """Finds the colours that a file's paints come down to."""

    def __init__(self, walker: Walker) -> None:
        self._walker = walker
        self._plain: dict[Element, Colour | None] = {}

    def is_pattern(self, source: PaintSource) -> bool:
        """Tell whether an area is to be painted with a pattern."""
        server = self._walker.target(source.server)
        return server is not None and local_name(server) == "pattern"

    def colour(self, source: PaintSource, state: GraphicsState, *, is_flat: bool) -> Colour | None:
        """Return the colour of a paint, None where it paints nothing (SVG 2, 13.2).

        A gradient counts as its strongest stop, a pattern as the first paint in its tile. Its fallback serves
        where it has no stops or paint, where there is no such server, and where a gradient is to fit the box
        of a shape that `is_flat` (SVG 1.1, 7.11).
        """
        while source.context is not None:
            if state.context is None:
                return None
            state = state.context
            source = state.style.fill if source.context == "fill" else state.style.stroke
        plain = state.style.color if source.is_current else source.colour
        server = self._walker.target(source.server)
        if server is None or local_name(server) not in _SERVERS:
            return plain
        if is_flat and local_name(server) in _GRADIENTS and self._fits_box(server):
            return plain
        if server not in self._plain:
            is_pattern = local_name(server) == "pattern"
            self._plain[server] = self._ground(server) if is_pattern else self._strongest_stop(server)
        return self._plain[server] or plain

    def _templates(self, server: Element) -> Iterator[Element]:
        """Yield a server and those that it takes what it lacks from (SVG 1.1, 13.2.2 and 13.3)."""
        seen: set[Element] = set()
        current: Element | None = server
        while current is not None and current not in seen and local_name(current) in _SERVERS:
            yield current
            seen.add(current)
            current = self._walker.target(link(current))

    def _fits_box(self, gradient: Element) -> bool:
        for template in self._templates(gradient):
            units = template.get("gradientUnits")
            if units in ("userSpaceOnUse", "objectBoundingBox"):
                return units == "objectBoundingBox"
        return True

    def _ground(self, pattern: Element) -> Colour | None:
        """Return the first plain colour in a pattern's tile, which lies below all others."""
        for template in self._templates(pattern):
            for shape in (each for each in template.iter() if local_name(each) in SHAPES):
                style = self._walker.element_style(shape, self._walker.inherited_style(shape))
                for source, opacity in (
                    (style.fill, style.fill_opacity),
                    (style.stroke, style.stroke_opacity),
                ):
                    colour = style.color if source.is_current else source.colour
                    if colour is not None and source.server is None and colour.alpha * opacity > 0:
                        return colour._replace(alpha=colour.alpha * opacity)
        return None

    def _strongest_stop(self, gradient: Element) -> Colour | None:
        for template in self._templates(gradient):
            colours = [self._stop_colour(stop) for stop in template if local_name(stop) == "stop"]
            if colours:
                return max(colours, key=lambda colour: colour.alpha)
        return None

    def _stop_colour(self, stop: Element) -> Colour:
        style = self._walker.element_style(stop, self._walker.inherited_style(stop))
        colour = style.color if style.stop_color.colour is None else style.stop_color.colour
        return colour._replace(alpha=colour.alpha * style.stop_opacity)
