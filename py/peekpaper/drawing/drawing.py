"""What a design file paints, as geometry: the value between the reader and the design."""

from dataclasses import dataclass

from shapely import LineString, MultiPolygon, Polygon

from peekpaper.message import Message

Area = Polygon | MultiPolygon


@dataclass(frozen=True, slots=True)
class Paint:
    """One painted area of a shape: its fill or its stroke.

    `area` is what is visible of it in CSS px after clipping, a valid geometry.
    `colour` is `#rrggbb`. `alpha` is the opacity from 0 (exclusive) to 1.
    """

    area: Area
    colour: str
    alpha: float


@dataclass(frozen=True, slots=True)
class Contour:
    """One subpath of a shape as a polyline in CSS px, whether it is painted or not.

    `closed` tells whether the file closes it (explicitly, or by ending where it began).
    """

    line: LineString
    closed: bool


@dataclass(frozen=True, slots=True)
class PaintedShape:
    """One element of the file, in paint order: fill first, then stroke.

    `stroke_width` is in CSS px after transforms (0 without a stroke); `layer` is the label or id of
    the outermost group that holds the shape, `name` the element's own id, each None where absent.
    """

    fill: Paint | None
    stroke: Paint | None
    stroke_width: float
    contours: tuple[Contour, ...]
    layer: str | None
    name: str | None


@dataclass(frozen=True, slots=True)
class LeftOutKind:
    """A kind of content that can't become geometry, and how often it occurs.

    `kind` is one of "text", "words-without-letters", "image", "filter", "mask", "clip-shape", "pattern",
    "external", "script", "font-unit", "tangled", "unreadable"; `message` tells the person what to do.
    `boxes` are the places of the first ones, where that can be told: left, top, right and bottom in CSS px.
    """

    kind: str
    count: int
    message: Message
    boxes: tuple[tuple[float, float, float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Drawing:
    """A design file as painted shapes, in CSS px (1/96 in), y down, origin at the page's corner.

    `has_physical_size` tells whether the file gives its size in mm, cm, in, pt, pc or Q, so that a
    CSS px is 1/96 in for sure; without it the size is a guess to be confirmed. `view_box_units` is how
    many user units of the root's viewBox one CSS px holds (1 without a viewBox). `tolerance` is the
    greatest distance, in CSS px, of the polylines from the true curves. `notices` tell
    what was mended while reading, such as a path drawn only up to an error. `px_per_inch` is what the
    file's header shows that its px mean, None where it shows nothing.
    """

    width: float
    height: float
    has_physical_size: bool
    view_box_units: float
    tolerance: float
    shapes: tuple[PaintedShape, ...]
    left_out: tuple[LeftOutKind, ...]
    notices: tuple[Message, ...]
    px_per_inch: float | None = None
