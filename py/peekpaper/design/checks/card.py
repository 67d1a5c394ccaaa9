"""What the card itself will do when it is cut: fall out, tear, or be too small."""

import math
from collections.abc import Iterator

import numpy as np
import shapely
from shapely import MultiPolygon, Point, Polygon

from peekpaper.design.bars.necks import find_necks
from peekpaper.design.bars.patches import joined_patches, patch_areas
from peekpaper.design.bars.spans import find_spans
from peekpaper.design.checks.inspected import Inspected
from peekpaper.design.design import Bar, DesignWarning
from peekpaper.design.left import WIDTHS, are_left, area_left
from peekpaper.geometry.areas import as_area
from peekpaper.geometry.overlay import union_all
from peekpaper.message import message

_TOUCHING_MM = 0.05
"""A bar so thin is none: less than a hair (about 0.07 mm) is cut through."""
_MOST_LOOSE_BITS = 50
"""So many are told one by one: a file with more is read the wrong way rather than drawn so (from memory)."""
_BESIDE_MM = 0.1
"""So far beside what was left as it is a thin place may lie, as edges are looked at in steps."""


def loose_bits(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield a warning for each piece of card that no bar holds, the largest first."""
    bits = _not_left(seen, "loose-bit", [bit.area for bit in seen.design.loose_bits])
    bits.sort(key=lambda bit: -bit.area)
    for bit in bits[:_MOST_LOOSE_BITS]:
        left, top, right, bottom = bit.bounds
        yield DesignWarning(
            "loose-bit",
            message("warning.loose-bit", width_mm=right - left, height_mm=bottom - top),
            bit.representative_point(),
            bit,
            3,
            "show",
        )
    if len(bits) > _MOST_LOOSE_BITS:
        rest = bits[_MOST_LOOSE_BITS:]
        yield DesignWarning(
            "more-loose-bits",
            message("warning.more-loose-bits", count=len(rest)),
            rest[0].representative_point(),
            MultiPolygon(rest),
            3,
            "change-habit",
        )


def touching_edges(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield one warning for all places where edges touch or all but touch, so that no bar is left."""
    touching = _bars_not_left(seen, [bar for bar in seen.design.bars if bar.width_mm <= _TOUCHING_MM])
    if touching:
        yield DesignWarning(
            "touching-edges",
            message("warning.touching-edges", count=len(touching)),
            _middle(touching[0]),
            _widened(touching),
            3,
            "show",
        )


def thin_bars(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield one warning for all bars under the limit, with the thin parts of their strips."""
    limit = seen.limits.bar_mm
    thin = _bars_not_left(seen, [bar for bar in seen.design.bars if _TOUCHING_MM < bar.width_mm < limit])
    if thin:
        wanted = _wide_enough(seen)
        figures = {"count": len(thin), "limit_mm": limit, "narrowest_mm": thin[0].width_mm}
        yield DesignWarning(
            "thin-bars",
            message("warning.thin-bars", **figures)
            if wanted is None
            else message("warning.thin-bars-larger", **figures, wanted_least_mm=wanted),
            _middle(thin[0]),
            _thin_parts(seen, thin),
            2,
            None if wanted is None else "set-width",
        )


def _wide_enough(seen: Inspected) -> int | None:
    """Return the width (mm) at which no bar is thin any more; None where that is larger than the mat.

    Bars without a width now may have one then, a thin one: the scale grows until it holds for those too.
    """
    design = seen.design
    most = sorted((seen.mat.width_mm, seen.mat.height_mm))
    scale, needed = 0.0, 1.0
    while needed > scale:
        scale = needed
        wanted = math.ceil(design.width_mm * scale)
        sides = sorted((wanted, design.height_mm * scale))
        if sides[0] > most[0] or sides[1] > most[1]:
            return None
        tearing = (bar.width_mm for bar in design.bars if bar.width_mm * scale > _TOUCHING_MM)
        needed = seen.limits.bar_mm / min(tearing, default=math.inf)
    return wanted


def thin_necks(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield one warning for all tongues of card that hang on by less than the limit for bars."""
    limit = seen.limits.bar_mm
    left = area_left(seen.design.left, WIDTHS)
    necks = [
        neck
        for neck in find_necks(seen.triangulation, limit)
        if not left.dwithin(neck.narrowest.centroid, _BESIDE_MM)
    ]
    if necks:
        yield DesignWarning(
            "thin-necks",
            message("warning.thin-necks", count=len(necks), limit_mm=limit, narrowest_mm=necks[0].width_mm),
            necks[0].narrowest.interpolate(0.5, normalized=True),
            as_area(union_all([neck.strip for neck in necks])),
            2,
            "set-size",
        )


def small_openings(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield one warning for all openings that are too small to back."""
    limit = seen.limits.opening_mm2
    small = _not_left(
        seen, "small-openings", [opening.area for opening in seen.design.openings if opening.is_small]
    )
    small.sort(key=lambda opening: opening.area)
    if small:
        yield DesignWarning(
            "small-openings",
            message("warning.small-openings", count=len(small), limit_mm2=limit),
            small[0].representative_point(),
            MultiPolygon(small),
            1,
            "leave-open",
        )


def separate_parts(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield a warning where the card comes in several parts beside one another."""
    parts = sorted(seen.design.card.geoms, key=lambda part: -part.area)
    apart = _not_left(seen, "separate-parts", parts[1:])
    if apart:
        yield DesignWarning(
            "separate-parts",
            message("warning.separate-parts", count=len(apart) + 1),
            apart[-1].representative_point(),
            MultiPolygon(apart),
            2,
            "show",
        )


def _not_left(seen: Inspected, finding: str, shapes: list[Polygon]) -> list[Polygon]:
    """Return which shapes the person did not leave as they are."""
    left = are_left(seen.design.left, finding, shapes)
    return [shape for shape, is_left in zip(shapes, left, strict=True) if not is_left]


def _bars_not_left(seen: Inspected, bars: list[Bar]) -> list[Bar]:
    """Return which bars have a place under the limit that the person did not leave as it is."""
    left = area_left(seen.design.left, WIDTHS)
    if left.is_empty or not bars:
        return bars
    shapely.prepare(left)
    spans = find_spans(seen.triangulation)
    thin = spans.width < seen.limits.bar_mm
    middles = shapely.points(spans.crossing[thin].mean(axis=1))
    open_pairs = np.unique(spans.pair[thin][~shapely.dwithin(left, middles, _BESIDE_MM)])
    still = {(int(low), int(high)) for low, high in spans.rings[open_pairs]}
    return [bar for bar in bars if _rings_of(bar) in still or not left.dwithin(_middle(bar), _BESIDE_MM)]


def _rings_of(bar: Bar) -> tuple[int, int]:
    """Return the rings of a card on both sides of a bar, the lower number first; 0 is the outside."""
    return (0, bar.first) if bar.second is None else (bar.first, bar.second)


def _middle(bar: Bar) -> Point:
    return bar.narrowest.interpolate(0.5, normalized=True)


def _widened(bars: list[Bar]) -> MultiPolygon:
    """Return spots that can be seen around the narrowest places of bars."""
    return as_area(union_all(shapely.buffer(np.array([bar.narrowest for bar in bars]), 0.5)))


def _thin_parts(seen: Inspected, bars: list[Bar]) -> MultiPolygon:
    spans = find_spans(seen.triangulation)
    wanted = {_rings_of(bar) for bar in bars}
    is_wanted = np.array([(int(low), int(high)) in wanted for low, high in spans.rings], bool)
    thin = is_wanted[spans.pair] & (spans.width < seen.limits.bar_mm)
    pairs, patch = np.unique(spans.pair[thin], return_inverse=True)
    triangles = seen.triangulation.triangles[spans.triangle[thin]]
    drawn = joined_patches(patch_areas(seen.triangulation.points, triangles, patch, len(pairs)))
    return drawn if not drawn.is_empty else _widened(bars)
