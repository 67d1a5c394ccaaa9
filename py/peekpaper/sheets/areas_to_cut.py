"""What is cut of the design itself: the card and the whole-back, each whole or in parts that fit the mat."""

from collections.abc import Iterator
from dataclasses import dataclass

from shapely import MultiLineString, MultiPolygon

from peekpaper.design.design import Design, LooseBit
from peekpaper.design.division.division import Division, Joint
from peekpaper.design.division.sheet_parts import sheet_parts
from peekpaper.geometry.overlay import intersection
from peekpaper.geometry.polyline import as_lines
from peekpaper.sheets.sheet_file import Purpose
from peekpaper.sheets.work import Work


@dataclass(frozen=True, slots=True)
class AreaToCut:
    """What is cut at one go, in design mm: its area, the loose bits in it and lines to line it up by.

    `file_name` and `title` are what it is called, `bounds` (left, top, right, bottom) is the stretch of the
    design that its sheet shows.
    """

    purpose: Purpose
    file_name: str
    title: str
    area: MultiPolygon
    bits: tuple[LooseBit, ...]
    marks: MultiLineString
    bounds: tuple[float, float, float, float]


def card_areas(work: Work) -> Iterator[AreaToCut]:
    """Yield the card, or its parts in the order of their numbers."""
    design, say = work.design, work.words.text
    if design.division is None:
        names = (say("file.card"), say("print.card"))
        yield AreaToCut(
            Purpose.CUT_CARD, *names, design.card, design.loose_bits, MultiLineString(), _whole(design)
        )
        return
    parts = design.division.parts
    for part in parts:
        place = {"number": part.number, "count": len(parts)}
        names = (say("file.card-part", **place), say("print.card-part", **place))
        bits = tuple(bit for bit in design.loose_bits if bit.number in part.bits)
        yield AreaToCut(Purpose.CUT_CARD, *names, part.area, bits, part.marks, part.area.bounds)


def whole_back_areas(work: Work) -> Iterator[AreaToCut]:
    """Yield the whole-back, or its parts where the card is in parts; nothing where there is none."""
    if work.whole_back is None:
        return
    design, area, say = work.design, work.whole_back.area, work.words.text
    if design.division is None:
        names = (say("file.whole-back"), say("print.whole-back"))
        yield AreaToCut(Purpose.CUT_WHOLE_BACK, *names, area, (), MultiLineString(), _whole(design))
        return
    plan = work.project.plan
    most = (plan.mat_width_mm - 2 * plan.mat_rim_mm, plan.mat_height_mm - 2 * plan.mat_rim_mm)
    parts = sheet_parts(area, most, design.division.seams)
    for number, part in enumerate(parts, 1):
        place = {"number": number, "count": len(parts)}
        names = (say("file.whole-back-part", **place), say("print.whole-back-part", **place))
        marks = _marks_on_back(design.division, part)
        yield AreaToCut(Purpose.CUT_WHOLE_BACK, *names, part, (), marks, part.bounds)


def _whole(design: Design) -> tuple[float, float, float, float]:
    return (0.0, 0.0, design.width_mm, design.height_mm)


def _marks_on_back(division: Division, part: MultiPolygon) -> MultiLineString:
    """Return where the card's parts meet on a part of the whole-back, if it alone holds them."""
    if division.joint is not Joint.EDGE:
        return MultiLineString()
    return as_lines(intersection(division.seams, part))
