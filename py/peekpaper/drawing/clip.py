"""Clip paths as areas (SVG 1.1, 14.3)."""

from dataclasses import replace
from xml.etree.ElementTree import Element

import shapely

from peekpaper.drawing.areas import NOTHING, as_area, join
from peekpaper.drawing.document import link, local_name
from peekpaper.drawing.drawing import Area
from peekpaper.drawing.fill import fill_area
from peekpaper.drawing.matrix import Matrix
from peekpaper.drawing.path import flatten
from peekpaper.drawing.shapes import SHAPES
from peekpaper.drawing.walk import BoxClip, Clip, Leaf, PathClip, Place, Walker


class Clipper:
    """Turns clips into areas of the page; remembers them, since many shapes share one."""

    def __init__(self, walker: Walker, tolerance: float) -> None:
        self._walker = walker
        self._tolerance = tolerance
        self._areas: dict[int, tuple[Clip, Area | None]] = {}

    def clip(self, area: Area, clips: tuple[Clip, ...]) -> Area:
        """Return what `clips` let through of an area in page coordinates."""
        for clip in clips:
            window = self._area(clip)
            if window is not None and not area.is_empty:
                area = as_area(shapely.intersection(area, window))
        return area

    def _area(self, clip: Clip) -> Area | None:
        key = id(clip)
        if key not in self._areas:
            found = self._box(clip) if isinstance(clip, BoxClip) else self._path(clip)
            self._areas[key] = (clip, found)
        return self._areas[key][1]

    def _box(self, clip: BoxClip) -> Area:
        x, y, width, height = clip.box
        corners = [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]
        a, b, c, d, e, f = clip.matrix
        return as_area(shapely.Polygon([(a * u + c * v + e, b * u + d * v + f) for u, v in corners]))

    def _path(self, clip: PathClip) -> Area | None:
        """Return the area of a `clip-path`, None where it points nowhere and so hides nothing."""
        target = self._walker.target(clip.address)
        if target is None or local_name(target) != "clipPath":
            return None
        return self._clip_path(target, clip.element, clip.place, frozenset())

    def _clip_path(
        self, target: Element, element: Element, place: Place, active: frozenset[Element]
    ) -> Area | None:
        if target in active:
            return None
        active = active | {target}
        matrix = place.matrix
        measures = place.measures
        if target.get("clipPathUnits") == "objectBoundingBox":
            box = self._walker.bounding_box(element, place)
            if box is None:
                return NOTHING
            matrix = matrix @ Matrix(box.width, 0, 0, box.height, box.x, box.y)
            measures = replace(measures, width=1, height=1)
        around = Place(matrix, self._walker.inherited_style(target), measures, depth=place.depth + 1)
        style = self._walker.element_style(target, around.style, measures.root_font_size)
        inner = self._walker.place_inside(target, style, around)
        if inner.matrix.determinant == 0:
            return NOTHING
        inner = replace(inner, active=frozenset({target}))
        areas = [self._child(child, inner, active) for child in target]
        area = join(areas) if areas else NOTHING
        own = self._own_clip(target, replace(inner, matrix=matrix, measures=place.measures), active)
        return area if own is None else as_area(shapely.intersection(area, own))

    def _own_clip(self, element: Element, place: Place, active: frozenset[Element]) -> Area | None:
        if not place.style.clip_path:
            return None
        target = self._walker.target(place.style.clip_path)
        if target is None or local_name(target) != "clipPath":
            return None
        return self._clip_path(target, element, place, active)

    def _child(self, child: Element, around: Place, active: frozenset[Element]) -> Area:
        """Return what one child of a `clipPath` lets through: a shape, or a `use` of a shape."""
        name = local_name(child)
        if name not in SHAPES and not (name == "use" and self._is_use_of_shape(child)):
            return NOTHING
        area: Area = NOTHING
        for leaf in self._walker.walk(child, around):
            if isinstance(leaf, Leaf) and leaf.place.style.visibility == "visible":
                area = self._leaf_area(leaf)
                for clip in leaf.place.clips:
                    if isinstance(clip, PathClip):
                        inner = self._own_clip(clip.element, clip.place, active)
                        area = area if inner is None else as_area(shapely.intersection(area, inner))
        return area

    def _is_use_of_shape(self, element: Element) -> bool:
        target = self._walker.target(link(element))
        return target is not None and local_name(target) in SHAPES

    def _leaf_area(self, leaf: Leaf) -> Area:
        lines = flatten(leaf.path.transformed(leaf.place.matrix), self._tolerance)
        return fill_area([line.points for line in lines], even_odd=leaf.place.style.clip_rule == "evenodd")
