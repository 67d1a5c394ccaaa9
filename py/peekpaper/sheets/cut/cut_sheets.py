"""The cut sheets of a work: mats, papers of a mat, the card and the whole-back."""

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LinearRing, Polygon

from peekpaper.design.design import LooseBit
from peekpaper.geometry.affine import after, moved
from peekpaper.geometry.fitting.curves import fit_outlines
from peekpaper.geometry.outline import Floats, Outline, outer_ring
from peekpaper.plan.plan import Mat, Trim
from peekpaper.sheets.areas_to_cut import AreaToCut, card_areas, whole_back_areas
from peekpaper.sheets.choices import SheetChoices
from peekpaper.sheets.cut.cut_sheet import Cut, CutGroup, CutSheet
from peekpaper.sheets.cut.size_check import with_size_check, with_size_check_beside
from peekpaper.sheets.paper_names import paper_letters, used_papers
from peekpaper.sheets.picture.label_spots import label_spots, number_size
from peekpaper.sheets.picture.lettering import lettered
from peekpaper.sheets.places import as_cut, edge_of, from_design, from_trim, size_on_mat
from peekpaper.sheets.plain_text import file_stem
from peekpaper.sheets.sheet_file import Purpose
from peekpaper.sheets.work import Work

_GUIDE_CAP_HEIGHT_MM = 4.0
"""The largest numbers on guide lines, read at arm's length (from memory)."""


def cut_sheets(work: Work, choices: SheetChoices) -> Iterator[CutSheet]:
    """Yield every sheet to cut: the mats, each paper of each mat where wanted, the card, the whole-back."""
    makings = _Makings(work, choices, _piece_shapes(work))
    letters, say = paper_letters(work), work.words.text
    for mat in work.plan.mats:
        trims = [trim for trim in work.plan.trims if trim.mat == mat.number]
        yield _mat_sheet(say("file.mat", number=mat.number), Purpose.CUT_MAT, mat, trims, makings)
        if choices.per_paper:
            for paper in used_papers(work):
                of_paper = [trim for trim in trims if trim.paper == paper.id]
                if of_paper:
                    name = say("file.mat-paper", number=mat.number, letter=letters[paper.id])
                    name = f"{name} {file_stem(paper.name, 30)}"
                    yield _mat_sheet(name.strip(), Purpose.CUT_PAPER, mat, of_paper, makings)
    for taken in (*card_areas(work), *whole_back_areas(work)):
        yield _area_sheet(taken, work, choices)


def cut_sheet_count(work: Work, choices: SheetChoices) -> int:
    """Return how many sheets there are to cut."""
    of_papers = {(trim.mat, trim.paper) for trim in work.plan.trims} if choices.per_paper else ()
    areas = (*card_areas(work), *whole_back_areas(work))
    return len(work.plan.mats) + len(of_papers) + len(areas)


@dataclass(frozen=True, slots=True, eq=False)
class _PieceShape:
    """A piece's outline and the spot for its number (x, y, radius), both in design mm."""

    outline: Outline
    spot: Floats


@dataclass(frozen=True, slots=True, eq=False)
class _Makings:
    """What every sheet of a mat is made from; `shapes` by piece number."""

    work: Work
    choices: SheetChoices
    shapes: dict[int, _PieceShape]


def _piece_shapes(work: Work) -> dict[int, _PieceShape]:
    placed = {placed.number for trim in work.plan.trims for placed in trim.pieces}
    pieces = [piece for piece in work.backing.pieces if piece.number in placed]
    outlines = fit_outlines([outer_ring(piece.outline) for piece in pieces])
    spots = label_spots([piece.outline for piece in pieces])
    return {
        piece.number: _PieceShape(outline, spot)
        for piece, outline, spot in zip(pieces, outlines, spots, strict=True)
    }


def _mat_sheet(name: str, purpose: Purpose, mat: Mat, trims: Sequence[Trim], makings: _Makings) -> CutSheet:
    work, choices = makings.work, makings.choices
    over = as_cut(mat.width_mm, choices)
    names = {paper.id: paper.name for paper in used_papers(work)}
    groups, guides = [], []
    for trim in trims:
        on_mat = after(over, from_trim(trim))
        cuts = []
        for placed in trim.pieces:
            shape, matrix = makings.shapes[placed.number], after(on_mat, from_design(placed))
            cuts.append(Cut(f"piece-{placed.number}", shape.outline.moved(matrix)))
            guides += _number(str(placed.number), shape.spot, matrix)
        size = work.words.size_at_least(*size_on_mat(trim), choices.unit)
        groups.append(CutGroup(f"trim-{trim.id}", f"{names[trim.paper]}, {size}", tuple(cuts)))
    sheet = CutSheet(
        name=name,
        title=f"{work.project.name}, {name}",
        width_mm=mat.width_mm,
        height_mm=mat.height_mm,
        purpose=purpose,
        groups=tuple(groups),
        guides=(*(_frame(trim, over) for trim in trims), *guides) if choices.guides else (),
    )
    if not choices.size_check:
        return sheet
    # The square of one paper's file must not lie where another paper of the mat does.
    taken = [Polygon(_frame(trim, over)) for trim in work.plan.trims if trim.mat == mat.number]
    return with_size_check(sheet, taken, choices.unit, work.words)


def _frame(trim: Trim, over: Floats) -> Floats:
    """Return the edge of a trim on its mat, once `over` lays the mat as it is cut."""
    return moved(edge_of(trim), after(over, from_trim(trim)))


def _number(text: str, spot: Floats, matrix: Floats) -> list[Floats]:
    """Return a piece's number in strokes, upright whichever way the piece lies."""
    x, y = moved(spot[:2], matrix)
    cap_height = number_size(text, float(spot[2]), _GUIDE_CAP_HEIGHT_MM)
    return lettered(text, float(x), float(y), cap_height, centred=True)


def _area_sheet(taken: AreaToCut, work: Work, choices: SheetChoices) -> CutSheet:
    """Return the sheet of a part of the design and the loose bits in it.

    What lies inside is cut first, so that each part is held until its last cut: the loose bits, then the
    openings around them, then the outside.
    """
    say = work.words.text
    name, area, bits = taken.file_name, taken.area, taken.bits
    left, top, right, bottom = taken.bounds
    over = after(as_cut(right - left, choices), np.array([[1.0, 0.0, -left], [0.0, 1.0, -top]]))
    holes = [ring for part in area.geoms for ring in part.interiors]
    innermost_first = sorted(bits, key=lambda bit: bit.area.area)
    named = [
        *(_bit_rings(bit) for bit in innermost_first),
        {f"opening-{index}": ring for index, ring in enumerate(holes, 1)},
        {f"outside-{index}": part.exterior for index, part in enumerate(area.geoms, 1)},
    ]
    rings = [shapely.get_coordinates(ring) for group in named for ring in group.values()]
    outlines = iter([outline.moved(over) for outline in fit_outlines(rings)])
    cuts = [tuple(Cut(name, next(outlines)) for name in group) for group in named]
    groups = (
        CutGroup("loose-bits", say("print.group-bits"), tuple(itertools.chain(*cuts[:-2]))),
        CutGroup("openings", say("print.group-openings"), cuts[-2]),
        CutGroup("outside", say("print.group-outside"), cuts[-1]),
    )
    sheet = CutSheet(
        name,
        f"{work.project.name}, {name}",
        right - left,
        bottom - top,
        taken.purpose,
        tuple(group for group in groups if group.cuts),
        tuple(_guides(taken, over)) if choices.guides else (),
    )
    if not choices.size_check:
        return sheet
    areas = shapely.transform([*area.geoms, *(bit.area for bit in bits)], lambda points: moved(points, over))
    mat = (work.project.plan.mat_width_mm, work.project.plan.mat_height_mm)
    return with_size_check_beside(sheet, list(areas), mat, choices.unit, work.words)


def _guides(taken: AreaToCut, over: Floats) -> Iterator[Floats]:
    """Yield the numbers of the loose bits, and the lines to which the edges of other parts go."""
    for bit, spot in zip(taken.bits, label_spots([bit.area for bit in taken.bits]), strict=True):
        yield from _number(bit.name, spot, over)
    for line in taken.marks.geoms:
        yield moved(shapely.get_coordinates(line), over)


def _bit_rings(bit: LooseBit) -> dict[str, LinearRing]:
    """Return the cuts of a loose bit by name, its holes first."""
    holes = {f"loose-bit-{bit.number}-hole-{index}": ring for index, ring in enumerate(bit.area.interiors, 1)}
    return {**holes, f"loose-bit-{bit.number}": bit.area.exterior}
