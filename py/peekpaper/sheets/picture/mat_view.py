"""A mat as a picture to copy by eye: its printed grid, and the trims on it."""

from collections.abc import Sequence

import numpy as np
import shapely
from shapely import Polygon

from peekpaper.geometry.affine import after, moved
from peekpaper.geometry.outline import Floats, rectangle
from peekpaper.geometry.overlay import intersection
from peekpaper.lengths import MM_PER_INCH
from peekpaper.plan.plan import Mat, Trim
from peekpaper.preview import matrix_of, pattern_corner, pattern_to_design
from peekpaper.sheets.choices import SheetChoices
from peekpaper.sheets.paper_names import trim_tags
from peekpaper.sheets.picture.colours import HAIRLINE, INK, PALE_INK, WHITE, ink_on, tint
from peekpaper.sheets.picture.fills import Fill, fills
from peekpaper.sheets.picture.label_spots import number_spots
from peekpaper.sheets.picture.picture import Anchor, Area, Mark, Picture, Stroke, Words
from peekpaper.sheets.picture.placed_numbers import number_ground
from peekpaper.sheets.picture.typeface import text_width
from peekpaper.sheets.places import as_cut, corner_on_mat, edge_of, from_design, from_trim, size_on_mat
from peekpaper.sheets.work import Work

RIM_MM = 6.0
"""Room around the mat for the numbers of its grid lines."""

_LEAST_CAP_MM = 1.2
"""The smallest numbers, on a picture that is looked at closely: about 5 point type."""
_LARGEST_CAP_MM = 2.4
"""The largest numbers of pieces: as large as the names of trims."""
_TAG_CAP_MM = 2.4
"""The names of trims."""
_PIECE_TINT = 0.85
"""How much of a paper's colour its pieces have, so that they stand out from their trim."""


def mat_view(work: Work, mat: Mat, choices: SheetChoices, scale: float) -> Picture:
    """Return the mat with its trims as it is cut; `scale` is how many mm of the picture make one of the mat.

    Grid lines are numbered in inches or centimetres from the upper left, as mats are.
    """
    trims = [trim for trim in work.plan.trims if trim.mat == mat.number]
    marks = [*_grid(mat, choices.unit, scale)]
    side = as_cut(mat.width_mm, choices)
    papers = fills(work)
    tags = trim_tags(work)
    for trim in trims:
        marks += _trim(trim, tags[trim.id] + _from(work, trim), papers[trim.paper], side, scale)
    return Picture(
        work.words.text("print.named-mat", name=work.project.name, number=mat.number),
        mat.width_mm * scale + 2 * RIM_MM,
        mat.height_mm * scale + 2 * RIM_MM,
        tuple(marks),
    )


def _from(work: Work, trim: Trim) -> str:
    """Return what a trim's tag adds where it doesn't come from the only sheet of its paper."""
    if trim.scrap is not None:
        return work.words.text("print.tag-scrap")
    several = dict(work.plan.sheets).get(trim.paper, 1) > 1
    if not several or trim.source is None:
        return ""
    key = "print.tag-page" if trim.printed_at else "print.tag-sheet"
    return work.words.text(key, number=trim.source.sheet)


def _grid(mat: Mat, unit: str, scale: float) -> list[Mark]:
    pitch, half = (MM_PER_INCH, 2) if unit == "in" else (10.0, 1)
    marks: list[Mark] = []
    fine: list[Floats] = []
    coarse: list[Floats] = []
    width, height = mat.width_mm * scale, mat.height_mm * scale
    every = 1 if pitch * scale > 6 else 2
    for length, across, other in ((mat.width_mm, True, height), (mat.height_mm, False, width)):
        for step in range(int(length / pitch * half + 1e-6) + 1):
            at = step * pitch / half * scale
            line = np.array([[at, 0.0], [at, other]]) if across else np.array([[0.0, at], [other, at]])
            (fine if step % half else coarse).append(line + RIM_MM)
            if step % (half * every) == 0:
                x, y = (at, -2.2) if across else (-1.2, at)
                anchor = Anchor.MIDDLE if across else Anchor.END
                label = str(step // half)
                marks.append(Words(label, x + RIM_MM, y + RIM_MM, 1.6, PALE_INK, anchor))
    frame = rectangle(RIM_MM, RIM_MM, width, height)
    lines: list[Mark] = [Stroke(tuple(fine), tint(HAIRLINE, 0.5), 0.08)] if fine else []
    return [*lines, Stroke(tuple(coarse), HAIRLINE, 0.12), *marks, Stroke((frame,), INK, 0.3)]


def _trim(trim: Trim, tag: str, fill: Fill, side: Floats, scale: float) -> list[Mark]:
    width, height = (length * scale for length in size_on_mat(trim))
    x, y = (at * scale + RIM_MM for at in corner_on_mat(trim, side))
    matrix = after(side, from_trim(trim))

    def on_page(points: Floats) -> Floats:
        return moved(points, matrix) * scale + RIM_MM

    frame = on_page(edge_of(trim))
    outlines = [shapely.transform(placed.outline, on_page) for placed in trim.pieces]
    rings = tuple(shapely.get_coordinates(outline.exterior) for outline in outlines)
    pieces = fill.thinned(_PIECE_TINT) if fill.look is None else fill
    marks: list[Mark] = [
        fill.thinned(0.45).area((frame,), matrix),
        pieces.area(rings, _laid(trim, matrix, scale)),
        Stroke(rings, INK, 0.12),
        Stroke((frame,), INK, 0.3),
    ]
    label = _emptiest_corner(shapely.box(x, y, x + width, y + height), tag, outlines)
    seen = {
        str(placed.number): part
        for placed, outline in zip(trim.pieces, outlines, strict=True)
        if (part := _in_sight(outline, label)) is not None
    }
    ink = INK if pieces.look else ink_on(pieces.colour)
    spots = number_spots(list(seen.values()), list(seen), _LEAST_CAP_MM, _LARGEST_CAP_MM)
    for text, spot in zip(seen, spots, strict=True):
        if spot.cap_height:
            if pieces.look:
                marks.append(Area((number_ground(text, spot.x, spot.y, spot.cap_height),), WHITE))
            marks.append(Words(text, spot.x, spot.y, spot.cap_height, ink, Anchor.MIDDLE))
    ring = shapely.get_coordinates(label.exterior)
    middle = label.centroid
    return [
        *marks,
        Area((ring,), WHITE),
        Stroke((ring,), INK, 0.2),
        Words(tag, middle.x, middle.y, _TAG_CAP_MM, INK, Anchor.MIDDLE, bold=True),
    ]


def _laid(trim: Trim, to_mat: Floats, scale: float) -> Floats:
    """Return the matrix that lays the pattern of a trim's paper on the picture of its mat."""
    to_picture = after(np.array([[scale, 0.0, RIM_MM], [0.0, scale, RIM_MM]]), to_mat)
    if not trim.pieces:
        return to_picture
    piece = trim.pieces[0]
    to_design = matrix_of(pattern_to_design(trim, piece, pattern_corner(trim)))
    return after(to_picture, after(from_design(piece), to_design))


def _in_sight(outline: Polygon, label: Polygon) -> Polygon | None:
    """Return the largest part of an outline that a label leaves in sight, None where it hides all."""
    parts = [part for part in shapely.get_parts(outline.difference(label)) if not part.is_empty]
    return max(parts, key=shapely.area, default=None)


def _emptiest_corner(frame: Polygon, tag: str, outlines: Sequence[Polygon]) -> Polygon:
    """Return the box for a trim's tag in the corner where it hides least, rather above and left."""
    width, height = text_width(tag, _TAG_CAP_MM, bold=True) + 2, _TAG_CAP_MM + 2
    left, top, right, bottom = frame.bounds
    corners = [
        shapely.box(x, y, x + width, y + height)
        for y in (top, bottom - height)
        for x in (left, right - width)
    ]
    hidden = [
        shapely.area(intersection(np.array(outlines, dtype=object), corner)).sum() for corner in corners
    ]
    return corners[int(np.argmin(np.round(hidden, 1)))]
