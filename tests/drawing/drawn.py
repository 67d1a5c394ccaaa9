"""Short ways to read a drawing and to ask what of it is painted."""

from shapely import Point

from peekpaper.drawing.drawing import Area, Drawing
from peekpaper.drawing.ink import ink
from peekpaper.drawing.read import read_drawing

OPEN = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'


def svg(body: str, attributes: str = 'viewBox="0 0 100 100"') -> str:
    """A file with `body` in it."""
    return f"{OPEN} {attributes}>{body}</svg>"


def drawing_of(body: str, attributes: str = 'viewBox="0 0 100 100"') -> Drawing:
    return read_drawing(svg(body, attributes).encode(), 0.01)


def ink_of(body: str, attributes: str = 'viewBox="0 0 100 100"') -> Area:
    return ink(drawing_of(body, attributes))


def is_painted(area: Area, x: float, y: float) -> bool:
    return bool(area.contains(Point(x, y)))


def colours_of(body: str) -> list[str]:
    """The colours of all fills and strokes in paint order."""
    paints = [paint for shape in drawing_of(body).shapes for paint in (shape.fill, shape.stroke)]
    return [paint.colour for paint in paints if paint is not None]
