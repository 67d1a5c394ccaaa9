"""Decisions on openings carried from one design to another of the same file: by where the openings lie.

Mends split, join and renumber openings, and so does another reading. What lies where an opening lay before is
that opening: it keeps its paper, its lock, its tick, its share in a piece, its shape, its place
and its motif.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from peekpaper.backing.backing import BackingChoices
from peekpaper.design.design import Design
from peekpaper.design.motifs.motif import Motif
from peekpaper.geometry.overlay import intersection
from peekpaper.papers.paper import Colourway
from peekpaper.project.project import Project

_COMMON = 0.25
"""Openings that share less of the smaller one's area than this are different ones (from memory)."""


@dataclass(frozen=True, slots=True, eq=False)
class _Numbered:
    """Areas (n) and their numbers."""

    numbers: Sequence[int]
    areas: NDArray[np.object_]


@dataclass(frozen=True, slots=True)
class _Heirs:
    """For each later number the earlier one whose place it has; for each earlier one its largest heir."""

    source: Mapping[int, int]
    heir: Mapping[int, int]


def carried(project: Project, before: Design, after: Design) -> Project:
    """Return a project whose decisions on the openings of `before` are on those of `after`.

    Parts of an opening that was split all get its paper and lock; what counts for one piece alone goes to the
    largest part. Openings that were joined get the decisions of the largest.
    """
    heirs = _matched(_openings(before), _openings(after))
    bits = _matched(_bits(before), _bits(after))
    project = replace(project, ticked_bits=_numbers(project.ticked_bits, bits))
    same = all(number == source for number, source in heirs.source.items())
    if same and len(before.openings) == len(after.openings) == len(heirs.source):
        return project
    plan = project.plan
    pins = tuple(
        replace(pin, piece=heirs.heir[pin.piece]) for pin in plan.piece_pins if pin.piece in heirs.heir
    )
    motifs = (_carried_motif(motif, heirs) for motif in project.motifs)
    return replace(
        project,
        motifs=tuple(motif for motif in motifs if motif.openings),
        colourways=tuple(_papered(colourway, heirs) for colourway in project.colourways),
        ticked=_numbers(project.ticked, heirs),
        backing=_backed(project.backing, heirs),
        plan=plan if pins == plan.piece_pins else replace(plan, piece_pins=pins),
    )


def _openings(design: Design) -> _Numbered:
    return _in_px(design, [(opening.number, opening.area) for opening in design.openings])


def _bits(design: Design) -> _Numbered:
    return _in_px(design, [(bit.number, bit.area) for bit in design.loose_bits])


def _in_px(design: Design, numbered: Sequence[tuple[int, Polygon]]) -> _Numbered:
    """Return numbered areas of a design in px of its drawing, which no size and no mend moves."""
    origin, scale = np.array(design.origin_px), design.mm_per_px
    areas = np.array([area for _, area in numbered], dtype=object)
    placed = np.asarray(shapely.transform(areas, lambda points: points / scale + origin), dtype=object)
    return _Numbered([number for number, _ in numbered], placed)


def _matched(old: _Numbered, new: _Numbered) -> _Heirs:
    """Match areas by what they share, the largest share last, so that it counts."""
    pairs = shapely.STRtree(old.areas).query(new.areas, predicate="intersects")
    one, other = new.areas[pairs[0]], old.areas[pairs[1]]
    shared = shapely.area(intersection(one, other))
    enough = shared >= _COMMON * np.minimum(shapely.area(one), shapely.area(other))
    order = np.argsort(shared[enough], kind="stable")
    matches = [(new.numbers[i], old.numbers[j]) for i, j in pairs[:, enough][:, order].T.tolist()]
    return _Heirs(dict(matches), {source: number for number, source in matches})


def _papered(colourway: Colourway, heirs: _Heirs) -> Colourway:
    papers, locked = colourway.papers, set(colourway.locked)
    return replace(
        colourway,
        papers={
            number: papers[source] for number, source in sorted(heirs.source.items()) if source in papers
        },
        locked=tuple(sorted(number for number, source in heirs.source.items() if source in locked)),
    )


def _carried_motif(motif: Motif, heirs: _Heirs) -> Motif:
    """Return a motif with all parts of its openings."""
    own = set(motif.openings)
    return replace(
        motif, openings=tuple(sorted(number for number, source in heirs.source.items() if source in own))
    )


def _backed(choices: BackingChoices, heirs: _Heirs) -> BackingChoices:
    shapes = {heirs.heir[piece]: name for piece, name in choices.simple_shapes if piece in heirs.heir}
    return replace(
        choices,
        joined=_pairs(choices.joined, heirs),
        split=_pairs(choices.split, heirs),
        simple_shapes=tuple(sorted(shapes.items())),
    )


def _pairs(pairs: Sequence[tuple[int, int]], heirs: _Heirs) -> tuple[tuple[int, int], ...]:
    """Return pairs of openings that are still two, the lower number first."""
    known = [
        (heirs.heir[one], heirs.heir[other]) for one, other in pairs if {one, other} <= heirs.heir.keys()
    ]
    return tuple(dict.fromkeys((min(pair), max(pair)) for pair in known if pair[0] != pair[1]))


def _numbers(numbers: Iterable[int], heirs: _Heirs) -> tuple[int, ...]:
    return tuple(sorted({heirs.heir[number] for number in numbers if number in heirs.heir}))
