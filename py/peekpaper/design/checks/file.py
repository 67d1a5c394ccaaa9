"""What the file leaves in doubt: its size, its page, what was mended or left out."""

from collections.abc import Iterator

from shapely import MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.design.checks.inspected import Inspected
from peekpaper.design.design import DesignWarning
from peekpaper.design.sheet.mended import Fault
from peekpaper.geometry.overlay import union_all

_MENDED = {
    Fault.OPEN: (
        "open-contours", 2,
        "{count} left open and could not be closed: it cuts nothing out. Cut that opening here by hand if "
        "it is meant.",
        "{count} left open and could not be closed: they cut nothing out. Cut those openings here by hand if "
        "they are meant.",
    ),
    Fault.CROSSING: (
        "crossing-contours", 2,
        "{count} crossing itself: look at the picture whether it cuts what you mean.",
        "{count} crossing themselves: look at the picture whether they cut what you mean.",
    ),
    Fault.DOUBLED: (
        "doubled-contours", 1,
        "{count} drawn twice; it counts once here. Remove the double before you cut the file itself.",
        "{count} drawn twice; they count once here. Remove the doubles before you cut the file itself.",
    ),
    Fault.GAP: (
        "gaps-closed", 1,
        "{count} not quite closed; the small gap was closed: look at the picture whether that is right.",
        "{count} not quite closed; the small gaps were closed: look at the picture whether that is right.",
    ),
    Fault.NOT_CUT: (
        "not-cut", 2,
        "{count} taken for scoring or engraving beside the cut lines: cut it here by "
        "hand if it is meant to be an opening.",
        "{count} taken for scoring or engraving beside the cut lines: cut them "
        "here by hand if they are meant to be openings.",
    ),
    Fault.BORDER: (
        "border-left-out", 2,
        "{count} left out as a border around the card: look at the picture whether that is right.",
        "{count} left out as borders around the card: look at the picture whether that is right.",
    ),
}  # fmt: skip


def mended_contours(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield one warning for each kind of contour that was put right."""
    for fault, (code, severity, one, many) in _MENDED.items():
        places = [mended.where for mended in seen.mended if mended.fault is fault]
        if places:
            count = "1 outline is" if len(places) == 1 else f"{len(places)} outlines are"
            message = (one if len(places) == 1 else many).format(count=count)
            values = {"count": len(places)}
            yield DesignWarning(code, message, _point_on(places[0]), _spots(places), severity, "show", values)


def slivers(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield one note for all that was drawn too fine to be card or opening."""
    if seen.slivers:
        count = len(seen.slivers)
        yield DesignWarning(
            "slivers",
            "1 sliver finer than a knife can cut was left out. Draw it here as a bar if it is meant."
            if count == 1
            else f"{count} slivers finer than a knife can cut were left out. Draw them here as bars "
            "if they are meant.",
            _point_on(seen.slivers[0]),
            _spots(list(seen.slivers)),
            1,
            "show",
            {"count": count},
        )


def off_page(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield a warning where card lies beyond the file's page."""
    if not seen.off_page.is_empty:
        yield DesignWarning(
            "off-the-page",
            "Part of the design lies beyond the page of its file: it is kept here, and "
            "in every file that you take from here.",
            seen.off_page.representative_point(),
            seen.off_page,
            2,
            "show",
        )


def size_is_a_guess(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield a note where nothing but px gives the size."""
    if seen.design.size_is_a_guess:
        design = seen.design
        yield DesignWarning(
            "size-is-a-guess",
            f"The file does not say how large it is in mm or inches: {design.width_mm:.1f} by "
            f"{design.height_mm:.1f} mm is a guess. Set the finished width, or say how many px make an inch.",
            Point(design.width_mm / 2, design.height_mm / 2),
            None,
            2,
            "set-size",
            {"width_mm": design.width_mm, "height_mm": design.height_mm},
        )


def larger_than_mat(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield a warning where the finished card fits the mat neither way up."""
    design, limits = seen.design, seen.limits
    short, long = sorted((design.width_mm, design.height_mm))
    mat_short, mat_long = sorted((limits.mat_width_mm, limits.mat_height_mm))
    if short > mat_short + 1e-6 or long > mat_long + 1e-6:
        yield DesignWarning(
            "larger-than-mat",
            f"The design is {design.width_mm:.1f} by {design.height_mm:.1f} mm, larger than the mat of "
            f"{limits.mat_width_mm:.1f} by {limits.mat_height_mm:.1f} mm: set a smaller width, "
            "or cut it in parts.",
            Point(design.width_mm / 2, design.height_mm / 2),
            None,
            2,
            "set-size",
            {
                "width_mm": design.width_mm,
                "height_mm": design.height_mm,
                "mat_width_mm": limits.mat_width_mm,
                "mat_height_mm": limits.mat_height_mm,
            },
        )


def left_out(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield a warning for each kind of content that was left out, and each thing mended while reading."""
    for kind in seen.left_out:
        parts = kind.where.geoms
        place = _point_on(parts[0]) if parts else Point(0, 0)
        yield DesignWarning("left-out", kind.message, place, kind.where if parts else None, 2, "show")
    for notice in seen.notices:
        yield DesignWarning("notice", notice, Point(0, 0), None, 1, None)


def no_openings(seen: Inspected) -> Iterator[DesignWarning]:
    """Yield a warning where the card has no opening at all."""
    if not seen.design.openings:
        yield DesignWarning(
            "no-openings",
            "No opening was found: the card is solid. Try another way to read the file, such as "
            "cut lines or inverted, or draw the openings as closed shapes.",
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
            "1 mend finds nothing to change any more: take it away, or leave it for when its place is back."
            if count == 1
            else f"{count} mends find nothing to change any more: take them away, or leave them for when "
            "their places are back.",
            Point(seen.design.width_mm / 2, seen.design.height_mm / 2),
            None,
            1,
            "drop-lost-mends",
            {"count": count},
        )


def _point_on(geometry: BaseGeometry) -> Point:
    return geometry.representative_point()


def _spots(places: list[BaseGeometry]) -> Polygon | MultiPolygon:
    """Return the places as areas that can be seen."""
    spots = union_all([place.buffer(0.5) for place in places])
    assert isinstance(spots, Polygon | MultiPolygon)
    return spots
