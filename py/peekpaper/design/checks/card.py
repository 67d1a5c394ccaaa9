"""What the card itself will do when it is cut: fall out, tear, or be too small."""

import math
from collections.abc import Iterator

import numpy as np
import shapely
from shapely import MultiPolygon, Point

from peekpaper.design.bars.necks import find_necks
from peekpaper.design.bars.patches import joined_patches, patch_areas
from peekpaper.design.bars.spans import find_spans
from peekpaper.design.checks.inspected import Inspected
from peekpaper.design.design import Bar, DesignWarning
from peekpaper.geometry.areas import as_area
from peekpaper.geometry.overlay import union_all

_TOUCHING_MM = 0.05
_MOST_LOOSE_BITS = 50
_ON_IT_MM = 0.05
"""So near a place that a person chose counts as there (from memory)."""


def loose_bits(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield a warning for each piece of card that no bar holds, the largest first."""
    glued = shapely.MultiPoint(seen.glued)
    bits = [bit.area for bit in seen.design.loose_bits if not bit.area.dwithin(glued, _ON_IT_MM)]
    bits.sort(key=lambda bit: -bit.area)
    for bit in bits[:_MOST_LOOSE_BITS]:
        left, top, right, bottom = bit.bounds
        size = f"{right - left:.1f} by {bottom - top:.1f} mm"
        yield DesignWarning(
            "loose-bit",
            f"A bit of card ({size}) is held by no bar and falls out: it is cut with the card, "
            "and glued onto the paper by hand at its place.",
            bit.representative_point(),
            bit,
            3,
            "show",
            {"width_mm": right - left, "height_mm": bottom - top},
        )
    if len(bits) > _MOST_LOOSE_BITS:
        rest = bits[_MOST_LOOSE_BITS:]
        count = "1 more bit of card falls" if len(rest) == 1 else f"{len(rest)} more bits of card fall"
        yield DesignWarning(
            "more-loose-bits",
            f"{count} out: the file may be drawn another way; try another way to read it.",
            rest[0].representative_point(),
            MultiPolygon(rest),
            3,
            "change-habit",
            {"count": len(rest)},
        )


def touching_edges(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield one warning for all places where edges touch or all but touch, so that no bar is left."""
    touching = [bar for bar in seen.design.bars if bar.width_mm <= _TOUCHING_MM]
    if touching:
        yield DesignWarning(
            "touching-edges",
            f"{_widthless(len(touching))} no width: edges touch, and the card comes apart there. "
            "Give them their width here.",
            _middle(touching[0]),
            _widened(touching),
            3,
            "show",
            {"count": len(touching)},
        )


def thin_bars(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield one warning for all bars under the limit, with the thin parts of their strips."""
    limit = seen.limits.bar_mm
    thin = [bar for bar in seen.design.bars if _TOUCHING_MM < bar.width_mm < limit]
    if thin:
        narrowest = thin[0].width_mm
        wanted = _wide_enough(seen)
        larger = "" if wanted is None else f"make the design at least {wanted} mm wide, "
        yield DesignWarning(
            "thin-bars",
            f"{_bars(len(thin))} narrower than {limit:g} mm and may tear: the narrowest is "
            f"{narrowest:.2f} mm. Widen them here, {larger}or take a stronger card.",
            _middle(thin[0]),
            _thin_parts(seen, thin),
            2,
            None if wanted is None else "set-width",
            {"count": len(thin), "limit_mm": limit, "narrowest_mm": narrowest}
            | ({} if wanted is None else {"wanted_mm": wanted}),
        )


def _wide_enough(seen: Inspected) -> int | None:
    """Return the width (mm) at which no bar is thin any more; None where that is larger than the mat.

    Bars without a width now may have one then, a thin one: the scale grows until it holds for those too.
    """
    design, limits = seen.design, seen.limits
    most = sorted((limits.mat_width_mm, limits.mat_height_mm))
    scale, needed = 0.0, 1.0
    while needed > scale:
        scale = needed
        wanted = math.ceil(design.width_mm * scale)
        sides = sorted((wanted, design.height_mm * scale))
        if sides[0] > most[0] or sides[1] > most[1]:
            return None
        tearing = (bar.width_mm for bar in design.bars if bar.width_mm * scale > _TOUCHING_MM)
        needed = limits.bar_mm / min(tearing, default=math.inf)
    return wanted


def thin_necks(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield one warning for all tongues of card that hang on by less than the limit for bars."""
    limit = seen.limits.bar_mm
    necks = find_necks(seen.triangulation, limit)
    if necks:
        count = "1 tongue of card hangs" if len(necks) == 1 else f"{len(necks)} tongues of card hang"
        yield DesignWarning(
            "thin-necks",
            f"{count} on by less than {limit:g} mm and may tear off: the thinnest neck is "
            f"{necks[0].width_mm:.2f} mm. Widen it here, or make the design larger.",
            necks[0].narrowest.interpolate(0.5, normalized=True),
            as_area(union_all([neck.strip for neck in necks])),
            2,
            "set-size",
            {"count": len(necks), "limit_mm": limit, "narrowest_mm": necks[0].width_mm},
        )


def small_openings(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield one warning for all openings that are too small to back."""
    limit = seen.limits.opening_mm2
    small = sorted(
        (opening for opening in seen.design.openings if opening.area.area < limit),
        key=lambda opening: opening.area.area,
    )
    if small:
        count = "1 opening is" if len(small) == 1 else f"{len(small)} openings are"
        yield DesignWarning(
            "small-openings",
            f"{count} smaller than {limit:g} mm²: too small to back with ease. Leave them open, or make the "
            "design larger.",
            small[0].area.representative_point(),
            MultiPolygon([opening.area for opening in small]),
            1,
            "leave-open",
            {"count": len(small), "limit_mm2": limit},
        )


def separate_parts(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield a warning where the card comes in several parts beside one another."""
    parts = sorted(seen.design.card.geoms, key=lambda part: -part.area)
    if len(parts) > 1:
        yield DesignWarning(
            "separate-parts",
            f"The card comes in {len(parts)} parts that nothing holds together: "
            "join them here by bars, or glue each in its place.",
            parts[-1].representative_point(),
            MultiPolygon(parts[1:]),
            2,
            "show",
            {"count": len(parts)},
        )


def _bars(count: int) -> str:
    return "1 bar is" if count == 1 else f"{count} bars are"


def _widthless(count: int) -> str:
    return "1 bar has" if count == 1 else f"{count} bars have"


def _middle(bar: Bar) -> Point:
    return bar.narrowest.interpolate(0.5, normalized=True)


def _widened(bars: list[Bar]) -> MultiPolygon:
    """Return spots that can be seen around the narrowest places of bars."""
    return as_area(union_all(shapely.buffer(np.array([bar.narrowest for bar in bars]), 0.5)))


def _thin_parts(seen: Inspected, bars: list[Bar]) -> MultiPolygon:
    spans = find_spans(seen.triangulation)
    wanted = {(bar.second or 0, bar.first) if bar.second is None else (bar.first, bar.second) for bar in bars}
    is_wanted = np.array([(int(low), int(high)) in wanted for low, high in spans.rings], bool)
    thin = is_wanted[spans.pair] & (spans.width < seen.limits.bar_mm)
    pairs, patch = np.unique(spans.pair[thin], return_inverse=True)
    triangles = seen.triangulation.triangles[spans.triangle[thin]]
    drawn = joined_patches(patch_areas(seen.triangulation.points, triangles, patch, len(pairs)))
    return drawn if not drawn.is_empty else _widened(bars)
