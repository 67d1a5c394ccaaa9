"""What to know about a backing before its pieces are cut."""

from collections.abc import Iterator, Mapping, Sequence

import numpy as np
import shapely
from shapely import LineString, MultiLineString, MultiPolygon

from peekpaper.backing.backing import BackingChoices
from peekpaper.backing.finish import FinishedPiece
from peekpaper.backing.layout import Layout
from peekpaper.backing.nearest import near_pairs
from peekpaper.backing.sharing import Sharing
from peekpaper.design.design import Design, DesignWarning
from peekpaper.design.division.division import Joint
from peekpaper.message import message

_NOTHING_MM = 1e-6
"""A width that is none: a millionth of a millimetre is rounding."""


def layout_cautions(
    design: Design, choices: BackingChoices, papers: Mapping[int, str], layout: Layout
) -> Iterator[DesignWarning]:
    """Yield what the layout of the pieces could not keep, each with its place on the design."""
    yield from _no_room_between(design, choices, layout)
    yield from _no_room_to_open(design, choices, layout)
    yield from _no_room_outside(design, choices, layout)
    yield from _not_joined(design, choices, papers, layout)


def lip_caution(
    design: Design,
    choices: BackingChoices,
    layout: Layout,
    finished: Mapping[int, FinishedPiece],
    under: tuple[int, ...],
) -> Iterator[DesignWarning]:
    """Yield one warning for all pieces under the least lip, if any: where each has its least, worst first."""
    if not under:
        return
    worst, *_ = narrowest_first = sorted(under, key=lambda piece: finished[piece].lip.least_mm)
    across = shapely.shortest_line(
        shapely.boundary([layout.cores[piece] for piece in narrowest_first]),
        [finished[piece].outline.exterior for piece in narrowest_first],
    )
    narrowest, where = across[0], MultiLineString(list(across))
    at = shapely.centroid(narrowest)
    if choices.lip_mm < choices.least_lip_mm:
        said = message("warning.wanted-lip", lip_mm=choices.lip_mm, least_lip_mm=choices.least_lip_mm)
        yield DesignWarning("wanted-lip", said, at, where, 2)
        return
    opening = _opening_at(narrowest, design, layout.sharing.pieces[worst])
    said = message(
        "warning.narrow-lip",
        count=len(under),
        wanted_mm=choices.least_lip_mm,
        narrowest_mm=finished[worst].lip.least_mm,
        opening=opening,
    )
    yield DesignWarning("narrow-lip", said, at, where, 2, "set-width")


def shape_cautions(
    design: Design, choices: BackingChoices, sharing: Sharing, finished: Mapping[int, FinishedPiece]
) -> Iterator[DesignWarning]:
    """Yield a warning for each simple shape that was wanted and does not fit."""
    areas = {opening.number: opening.area for opening in design.openings}
    for opening, _ in choices.simple_shapes:
        piece = sharing.piece_of.get(opening)
        if piece is not None and finished[piece].simple_shape is None:
            area = areas[opening]
            said = message("warning.shape-does-not-fit", opening=opening)
            yield DesignWarning("shape-does-not-fit", said, area.representative_point(), area, 1, "show")


def whole_back_cautions(
    design: Design, choices: BackingChoices, whole_back: MultiPolygon | None
) -> Iterator[DesignWarning]:
    """Yield a warning where the margin leaves nothing of the whole-back, or parts of a card have none."""
    division = design.division
    if division is not None and division.joint is Joint.EDGE and choices.whole_back is None:
        said = message("warning.parts-apart", count=len(division.parts))
        yield DesignWarning("parts-apart", said, shapely.centroid(design.card), None, 3)
    if choices.whole_back is not None and whole_back is not None and whole_back.is_empty:
        margin_mm = choices.whole_back.edge_margin_mm
        said = message("warning.no-whole-back", margin_mm=margin_mm)
        yield DesignWarning("no-whole-back", said, shapely.centroid(design.card), None, 2)


def _no_room_between(design: Design, choices: BackingChoices, layout: Layout) -> Iterator[DesignWarning]:
    piece_of = layout.sharing.piece_of
    backed = [opening for opening in design.openings if opening.number in piece_of]
    areas = [opening.area for opening in backed]
    least_mm = max(choices.gap_mm, _NOTHING_MM)
    pairs, widths = near_pairs(areas, areas, least_mm)
    for (one, other), width in zip(pairs.tolist(), widths.tolist(), strict=True):
        first, second = backed[one].number, backed[other].number
        if first >= second or piece_of[first] == piece_of[second] or width >= least_mm:
            continue
        line = shapely.shortest_line(areas[one], areas[other])
        if width < _NOTHING_MM:
            code, said = "papers-meet", message("warning.papers-meet", first=first, second=second)
        else:
            code = "no-room-between"
            said = message(
                "warning.no-room-between", first=first, second=second, apart_mm=width, gap_mm=choices.gap_mm
            )
        yield DesignWarning(code, said, shapely.centroid(line), line, 2, "show")


def _no_room_to_open(design: Design, choices: BackingChoices, layout: Layout) -> Iterator[DesignWarning]:
    piece_of = layout.sharing.piece_of
    backed = [opening for opening in design.openings if opening.number in piece_of]
    opened = [opening for opening in design.openings if opening.number not in piece_of]
    pairs, widths = near_pairs([o.area for o in backed], [o.area for o in opened], choices.clearance_mm)
    for (one, other), width in zip(pairs.tolist(), widths.tolist(), strict=True):
        if width < choices.clearance_mm:
            line = shapely.shortest_line(backed[one].area, opened[other].area)
            said = message(
                "warning.no-room-to-open",
                backed=backed[one].number,
                opened=opened[other].number,
                apart_mm=width,
            )
            yield DesignWarning("no-room-to-open", said, shapely.centroid(line), line, 2, "show")


def _no_room_outside(design: Design, choices: BackingChoices, layout: Layout) -> Iterator[DesignWarning]:
    edges = np.array([part.exterior for part in design.card.geoms], dtype=object)
    shapely.prepare(edges)
    pieces = list(layout.cores)
    cores = np.array(list(layout.cores.values()), dtype=object)
    near = shapely.STRtree(cores).query(edges, predicate="dwithin", distance=choices.edge_margin_mm)
    edge, core = near[:, np.lexsort(near)]
    lines = shapely.reverse(shapely.shortest_line(edges[edge], cores[core]))
    for place, line in zip(core.tolist(), lines, strict=True):
        if line.length < choices.edge_margin_mm:
            opening = _opening_at(line, design, layout.sharing.pieces[pieces[place]])
            said = message(
                "warning.no-room-outside",
                opening=opening,
                apart_mm=line.length,
                margin_mm=choices.edge_margin_mm,
            )
            yield DesignWarning("no-room-outside", said, shapely.centroid(line), line, 2, "show")


def _not_joined(
    design: Design, choices: BackingChoices, papers: Mapping[int, str], layout: Layout
) -> Iterator[DesignWarning]:
    areas = {opening.number: opening.area for opening in design.openings}
    piece_of = layout.sharing.piece_of
    for first, second in choices.joined:
        if first not in piece_of or second not in piece_of or piece_of[first] == piece_of[second]:
            continue
        code = "unlike-papers" if papers[first] != papers[second] else "not-joined"
        line = shapely.shortest_line(areas[first], areas[second])
        said = message(f"warning.{code}", first=first, second=second)
        yield DesignWarning(code, said, shapely.centroid(line), line, 1, "show")


def _opening_at(line: LineString, design: Design, openings: Sequence[int]) -> int:
    """Return which of a piece's openings a line across its lip or bar starts at."""
    areas = {opening.number: opening.area for opening in design.openings}
    return min(openings, key=lambda number: areas[number].distance(line))
