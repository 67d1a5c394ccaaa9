"""From a design to its backing: the one door of this step."""

from collections.abc import Mapping

from shapely import MultiPolygon, Polygon

from peekpaper.backing.backing import Backing, BackingChoices, Mode, Piece
from peekpaper.backing.easing import eased_outlines
from peekpaper.backing.fitted import fitted_outlines, total_nodes
from peekpaper.backing.lips import measured_lip
from peekpaper.backing.room import outline_of, rooms
from peekpaper.backing.sharing import members, shared_groups
from peekpaper.backing.sites import lay_sites
from peekpaper.backing.smallest import narrows, smallest_of, uniform_lip
from peekpaper.backing.whole_back import whole_back_sheet
from peekpaper.backing.zones import OPEN, zones
from peekpaper.design.design import Design


def make_backing(design: Design, choices: BackingChoices, papers: Mapping[int, str]) -> Backing:
    """Return the backing pieces of a design.

    `papers` gives the paper's id for each opening to be backed; openings that it misses stay open.
    """
    openings = {opening.number: opening.area for opening in design.openings}
    backed = {number: area for number, area in openings.items() if number in papers}
    groups = shared_groups(backed, papers, choices)
    pieces = members(groups)
    places = narrows(design, groups, choices)
    smallest = smallest_of(places, design.width_mm, choices.least_lip_mm)
    uniform = min(uniform_lip(places), choices.lip_mm)
    fitted: dict[int, Polygon] = {}
    outlines: dict[int, Polygon] = {}
    if backed:
        areas = zones(
            lay_sites(list(openings.values()), outline_of(design.card)),
            [groups.get(number, OPEN) for number in openings],
        )
        opened = [area for number, area in openings.items() if number not in papers]
        room = rooms(areas, outline_of(design.card), opened, choices)
        cores: dict[int, Polygon | MultiPolygon] = {
            piece: MultiPolygon([backed[number] for number in numbers]) for piece, numbers in pieces.items()
        }
        lip = choices.lip_mm if choices.mode is Mode.FITTED else uniform
        fitted = fitted_outlines(cores, room, lip)
        outlines = eased_outlines(fitted, cores, room)
    lips = {piece: measured_lip([backed[n] for n in pieces[piece]], outlines[piece]) for piece in pieces}
    return Backing(
        pieces=tuple(
            Piece(
                piece,
                numbers,
                papers[piece],
                outlines[piece],
                lips[piece].least_mm,
                lips[piece].median_mm,
                None,
            )
            for piece, numbers in pieces.items()
        ),
        whole_back=whole_back_sheet(design.card, choices.whole_back) if choices.whole_back else None,
        offers=(),
        pieces_saved_by_sharing=len(backed) - len(pieces),
        uniform_lip_mm=uniform,
        smallest_width_mm=smallest.width_mm,
        smallest_set_by=smallest.set_by,
        nodes_before=total_nodes(list(fitted.values())),
        nodes_after=total_nodes(list(outlines.values())),
        under_least_lip=tuple(piece for piece, lip in lips.items() if lip.least_mm < choices.least_lip_mm),
        warnings=(),
    )
