"""The backing of a design of which few openings changed: pieces made anew around those, others as they were.

A piece reaches no farther than its lip, and no border is set by an edge more than two lips away: so the
openings near a change give what the whole design would give there.
"""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import shapely
from numpy.typing import NDArray

from peekpaper.backing.backing import Backing, BackingChoices, Mode
from peekpaper.backing.kept import BackingBench
from peekpaper.backing.make import previewed
from peekpaper.backing.outlines.room import outline_of
from peekpaper.backing.zones.laying import lay_sites, site_step
from peekpaper.design.design import Design
from peekpaper.geometry.areas import as_area, geometries
from peekpaper.geometry.overlay import intersection, symmetric_difference, union_all

_FEW = 0.5
"""Where a larger share of the openings would be made anew, the whole is as quick."""


def touched_up(
    before: Design, backing: Backing, after: Design, choices: BackingChoices, papers: Mapping[int, str]
) -> Backing | None:
    """Return the backing of `after` as it roughly will be, from that of `before`, made with the same lengths.

    None where it has to be made as a whole: too much changed, or pieces depend on what is far away, as shared
    ones and those of one uniform lip do. Offers and warnings are those of no design and left out.
    """
    if choices.mode is not Mode.FITTED or any(len(piece.openings) > 1 for piece in backing.pieces):
        return None
    old, new = (geometries([each.area for each in one.openings]) for one in (before, after))
    if not len(old) or not len(new):
        return None
    number_of = dict(
        zip(shapely.to_wkb(old).tolist(), (each.number for each in before.openings), strict=True)
    )
    kept = [number_of.get(wkb) for wkb in shapely.to_wkb(new).tolist()]
    is_new = np.array([number is None for number in kept])
    is_gone = np.array([each.number not in kept for each in before.openings])
    reach = 2 * choices.lip_mm + choices.gap_mm + choices.clearance_mm
    changed = symmetric_difference(union_all(old[is_gone]), union_all(new[is_new]))
    anew = is_new | _near(new, shapely.get_parts(changed), reach)
    if np.count_nonzero(anew) > _FEW * len(new):
        return None
    pieces = {piece.number: piece for piece in backing.pieces}
    local = _around(after, anew, new, reach)
    wanted = {
        opening.number: papers[opening.number] for opening in local.openings if opening.number in papers
    }
    alone = replace(choices, joined=(), shared_bar_mm=None, whole_back=None)
    bench = BackingBench()
    # Edges are seen as finely as in the whole design: as many sites for each millimetre, not in all.
    bench.sites.get(
        (local.openings, local.card),
        lambda: lay_sites(
            [opening.area for opening in local.openings], outline_of(local.card), site_step(new.tolist())
        ),
    )
    made = {piece.number: piece for piece in previewed(local, alone, wanted, bench).pieces} if wanted else {}
    told = []
    for opening, is_anew, source in zip(after.openings, anew.tolist(), kept, strict=True):
        if opening.number not in papers:
            continue
        if is_anew or source not in pieces:
            if opening.number not in made:
                return None
            told.append(made[opening.number])
        else:
            told.append(replace(pieces[source], number=opening.number, openings=(opening.number,)))
    return replace(backing, pieces=tuple(told), offers=(), warnings=(), under_least_lip=())


def _near(openings: NDArray[np.object_], changed: NDArray[np.object_], reach: float) -> NDArray[np.bool_]:
    """Tell which openings (n) lie within reach of places that changed."""
    near = np.zeros(len(openings), bool)
    near[shapely.STRtree(openings).query(changed, predicate="dwithin", distance=reach)[1]] = True
    return near


def _around(design: Design, anew: NDArray[np.bool_], openings: NDArray[np.object_], reach: float) -> Design:
    """Return as much of a design as sets the pieces of the openings `anew`."""
    setting = _near(openings, openings[anew], reach) if anew.any() else anew
    room = shapely.box(*shapely.total_bounds(openings[anew])).buffer(reach, join_style="mitre")
    card = as_area(intersection(outline_of(design.card), room))
    shown = tuple(opening for opening, sets in zip(design.openings, setting.tolist(), strict=True) if sets)
    return replace(design, openings=shown, card=card)
