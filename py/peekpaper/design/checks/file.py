"""What the file leaves in doubt: its size, its page, what was mended or left out."""

from collections.abc import Iterator

from shapely import MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.design.checks.inspected import Inspected
from peekpaper.design.design import DesignWarning
from peekpaper.design.sheet.mended import Fault
from peekpaper.design.size import LEAST_USUAL_MM
from peekpaper.geometry.overlay import union_all
from peekpaper.message import message

_MENDED = {
    Fault.OPEN: ("open-contours", 2),
    Fault.CROSSING: ("crossing-contours", 2),
    Fault.DOUBLED: ("doubled-contours", 1),
    Fault.GAP: ("gaps-closed", 1),
    Fault.NOT_CUT: ("not-cut", 2),
    Fault.BORDER: ("border-left-out", 2),
}
"""By fault, the code of its warning and how severe it is."""


def mended_contours(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield one warning for each kind of contour that was put right."""
    for fault, (code, severity) in _MENDED.items():
        places = [mended.where for mended in seen.mended if mended.fault is fault]
        if places:
            said = message(f"warning.{code}", count=len(places))
            yield DesignWarning(code, said, _point_on(places[0]), _spots(places), severity, "show")


def slivers(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield one note for all that was drawn too fine to be card or opening."""
    if seen.slivers:
        yield DesignWarning(
            "slivers",
            message("warning.slivers", count=len(seen.slivers)),
            _point_on(seen.slivers[0]),
            _spots(list(seen.slivers)),
            1,
            "show",
        )


def lost(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield a warning where the reading makes nothing of what the file draws."""
    if not seen.lost.is_empty:
        yield DesignWarning(
            "not-read",
            message("warning.not-read"),
            seen.lost.representative_point(),
            seen.lost,
            2,
            "change-habit",
        )


def off_page(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield a warning where card lies beyond the file's page."""
    if not seen.off_page.is_empty:
        yield DesignWarning(
            "off-the-page",
            message("warning.off-the-page"),
            seen.off_page.representative_point(),
            seen.off_page,
            2,
            "change-habit",
        )


def size_is_a_guess(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield a note where nothing but px gives the size."""
    if seen.design.size_is_a_guess:
        design = seen.design
        yield DesignWarning(
            "size-is-a-guess",
            message("warning.size-is-a-guess", width_mm=design.width_mm, height_mm=design.height_mm),
            Point(design.width_mm / 2, design.height_mm / 2),
            None,
            2,
            "set-size",
        )


def very_small(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield a warning where the finished card is too small for anybody to back, whoever says so."""
    design = seen.design
    if max(design.width_mm, design.height_mm) < LEAST_USUAL_MM:
        yield DesignWarning(
            "very-small",
            message("warning.very-small", width_mm=design.width_mm, height_mm=design.height_mm),
            Point(design.width_mm / 2, design.height_mm / 2),
            None,
            2,
            "set-size",
        )


def larger_than_mat(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield a warning where the card fits the mat neither way up and is not cut in parts that do."""
    design, mat = seen.design, seen.mat
    if design.division is None and not mat.holds(design.width_mm, design.height_mm):
        yield DesignWarning(
            "larger-than-mat",
            message(
                "warning.larger-than-mat" if design.joint is None else "warning.no-seam",
                width_mm=design.width_mm,
                height_mm=design.height_mm,
                mat_width_mm=mat.width_mm,
                mat_height_mm=mat.height_mm,
            ),
            Point(design.width_mm / 2, design.height_mm / 2),
            None,
            2,
            "set-size",
        )


def left_out(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield a warning for each kind of content that was left out, and each thing mended while reading."""
    for kind in seen.left_out:
        parts = kind.where.geoms
        place = _point_on(parts[0]) if parts else Point(0, 0)
        action = "letter" if kind.message.key == "left-out.text" else "show"
        yield DesignWarning("left-out", kind.message, place, kind.where if parts else None, 2, action)
    for notice in seen.notices:
        change = "letter" if notice.key == "notice.stand-in" else None
        yield DesignWarning("notice", notice, Point(0, 0), None, 1, change)


def no_openings(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield a warning where the card has no opening at all."""
    if not seen.design.openings:
        yield DesignWarning(
            "no-openings",
            message("warning.no-openings"),
            seen.design.card.representative_point(),
            None,
            3,
            "change-habit",
        )


def lost_mends(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield a warning for the mends that find nothing to change, such as after another reading."""
    count = len(seen.design.lost_mends)
    if count:
        yield DesignWarning(
            "lost-mends",
            message("warning.lost-mends", count=count),
            Point(seen.design.width_mm / 2, seen.design.height_mm / 2),
            None,
            1,
            "drop-lost-mends",
        )


def _point_on(geometry: BaseGeometry) -> Point:
    return geometry.representative_point()


def _spots(places: list[BaseGeometry]) -> Polygon | MultiPolygon:
    """Return the places as areas that can be seen."""
    spots = union_all([place.buffer(0.5) for place in places])
    assert isinstance(spots, Polygon | MultiPolygon)
    return spots
