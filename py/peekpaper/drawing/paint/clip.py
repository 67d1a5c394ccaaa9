"""Clip paths as areas (SVG 1.1, 14.3)."""

from collections.abc import Hashable
from xml.etree.ElementTree import Element

import shapely

from peekpaper.drawing.areas.fill import fill_area
from peekpaper.drawing.areas.valid_areas import NOTHING, as_area, intersect, join
from peekpaper.drawing.drawing import Area
from peekpaper.drawing.file.budget import Budget
from peekpaper.drawing.file.document import link, local_name
from peekpaper.drawing.outlines.matrix import IDENTITY, Matrix
from peekpaper.drawing.outlines.path import count_chords, flatten
from peekpaper.drawing.tree.conditions import passes_conditions
from peekpaper.drawing.tree.graphics_state import BoxClip, Clip, GraphicsState, Leaf, PathClip
from peekpaper.drawing.tree.lettering import has_lettering
from peekpaper.drawing.tree.shapes import SHAPES
from peekpaper.drawing.tree.walk import Walker

_WORK_OF_A_CLIP = 5
"""How many plain elements a shape in a clip path counts for."""


class Clipper:
    """Turns clips into areas of the page, and remembers them, since many shapes share one."""

    def __init__(self, walker: Walker, budget: Budget, tolerance: float) -> None:
        self._walker = walker
        self._budget = budget
        self._tolerance = tolerance
        self._windows: dict[Hashable, Area | None] = {}

    def clip(self, area: Area, clips: tuple[Clip, ...]) -> Area:
        """Return what `clips` let through of an area in page coordinates."""
        for clip in clips:
            window = self._window(clip)
            if window is not None and not area.is_empty and not _is_within(area, clip, window):
                area = self._common(area, window)
        return area

    def _common(self, area: Area, window: Area) -> Area:
        self._budget.clip(int(shapely.get_num_coordinates([area, window]).sum()))
        return intersect(area, window)

    def _window(self, clip: Clip) -> Area | None:
        """Return what a clip lets through; None where it points nowhere, and so hides nothing."""
        if clip not in self._windows:
            self._windows[clip] = _box_area(clip) if isinstance(clip, BoxClip) else self._path_window(clip)
        return self._windows[clip]

    def _path_window(self, clip: PathClip) -> Area | None:
        target = self._clip_path(clip.address)
        if target is None:
            return None
        if _fits_box(target):
            return self._area(target, clip, frozenset())
        # Programs like to clip each shape by itself with one and the same path.
        key = (target, clip.matrix, clip.state.measures)
        if key not in self._windows:
            self._windows[key] = self._area(target, clip, frozenset())
        return self._windows[key]

    def _clip_path(self, address: str) -> Element | None:
        target = self._walker.target(address)
        return target if target is not None and local_name(target) == "clipPath" else None

    def _area(self, target: Element, clip: PathClip, active: frozenset[Element]) -> Area | None:
        """Return the area of the `clipPath` `target` where `clip` uses it, None inside itself."""
        if target in active:
            return None
        active = active | {target}
        self._budget.visit(len(active))
        state, matrix, fit = clip.state, clip.matrix, IDENTITY
        if _fits_box(target):
            box = self._walker.bounding_box(clip.element, state)
            if box is None:
                return NOTHING
            matrix, fit = state.matrix, Matrix(box.width, 0, 0, box.height, box.x, box.y)
        inherited = self._walker.inherited_style(target)
        around = GraphicsState(
            matrix, inherited, state.measures, depth=state.depth + 1, active=frozenset({target})
        )
        style = self._walker.element_style(target, inherited)
        inside = self._walker.state_inside(target, style, around)
        # Renderers fit it to the box first and transform it then; percentages are of the viewport.
        inside = inside._replace(matrix=inside.matrix @ fit)
        if inside.matrix.determinant == 0:
            return NOTHING
        area = join([NOTHING, *(self._child_area(child, inside, active) for child in target)])
        own = self._clip_path(style.clip_path)
        window = self._area(own, clip, active) if own is not None else None
        return area if window is None else self._common(area, window)

    def _child_area(self, child: Element, around: GraphicsState, active: frozenset[Element]) -> Area:
        """Return what a child of a `clipPath` lets through: a shape, or a `use` of a shape."""
        name = local_name(child)
        if not passes_conditions(child):
            return NOTHING
        if not _is_shape(child) and not (name == "use" and self._draws_shape(child)):
            return NOTHING
        leaves = (
            found
            for found in self._walker.walk(child, around)
            if isinstance(found, Leaf) and not found.state.is_marker
        )
        return join([NOTHING, *(self._leaf_area(leaf, active) for leaf in leaves)])

    def _draws_shape(self, use: Element) -> bool:
        target = self._walker.target(link(use))
        return target is not None and _is_shape(target)

    def _leaf_area(self, leaf: Leaf, active: frozenset[Element]) -> Area:
        path = leaf.path.transformed(leaf.state.matrix)
        if leaf.state.style.visibility != "visible" or not path.is_measurable:
            return NOTHING
        chords = count_chords(path.curves, self._tolerance)
        self._budget.visit(leaf.state.depth, _WORK_OF_A_CLIP)
        count = int(chords.sum())
        self._budget.points(count)
        self._budget.clip(count)
        lines = flatten(path, chords)
        area = fill_area([line.points for line in lines], even_odd=leaf.state.style.clip_rule == "evenodd")
        self._budget.crossings(int(shapely.get_num_coordinates(area)) - 2 * count)
        for clip in leaf.state.clips:
            target = self._clip_path(clip.address) if isinstance(clip, PathClip) else None
            if isinstance(clip, PathClip) and target is not None:
                window = self._area(target, clip, active)
                area = area if window is None else self._common(area, window)
        return area


def _is_shape(element: Element) -> bool:
    name = local_name(element)
    return name in SHAPES or (name == "text" and has_lettering(element))


def _fits_box(clip_path: Element) -> bool:
    return clip_path.get("clipPathUnits") == "objectBoundingBox"


def _is_within(area: Area, clip: Clip, window: Area) -> bool:
    """Tell at a glance whether a viewport leaves an area whole, as most do."""
    return isinstance(clip, BoxClip) and shapely.box(*area.bounds).within(window)


def _box_area(clip: BoxClip) -> Area:
    x, y, width, height = clip.box
    corners = (complex(x, y), complex(x + width, y), complex(x + width, y + height), complex(x, y + height))
    points = (clip.matrix.apply_to(corner) for corner in corners)
    return as_area(shapely.Polygon([(point.real, point.imag) for point in points]))
