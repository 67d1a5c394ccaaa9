"""What a mend changes of a backing is told from few openings, as the whole backing then has it."""

from dataclasses import replace

import shapely
from panels import design_of, random_panel
from shapely import affinity

from peekpaper.backing.backing import Backing, BackingChoices, Mode
from peekpaper.backing.make import backings, make_backing
from peekpaper.backing.touched import touched_up
from peekpaper.design.design import Design
from peekpaper.geometry.areas import as_area

PANEL = random_panel(11, rows=6, columns=6).card
CARD = affinity.translate(PANEL, -PANEL.bounds[0], -PANEL.bounds[1])
BEFORE = design_of(CARD)
CHOICES = BackingChoices()


def with_bar(design: Design) -> Design:
    """Return the design with a bar down across the middle of its largest opening without a notch."""
    plain = [each.area for each in design.openings if each.area.area > 0.95 * each.area.convex_hull.area]
    largest = max(plain, key=lambda area: area.area)
    left, top, right, bottom = largest.bounds
    middle = (left + right) / 2
    return design_of(
        as_area(shapely.union(CARD, shapely.box(middle - 0.6, top - 0.5, middle + 0.6, bottom + 0.5)))
    )


def all_of(design: Design) -> dict[int, str]:
    return {opening.number: "p1" for opening in design.openings}


def told(before: Backing, choices: BackingChoices, after: Design) -> Backing | None:
    return touched_up(BEFORE, before, after, choices, all_of(after))


def test_openings_that_a_mend_does_not_touch_are_the_same_values() -> None:
    kept = {opening.area.wkb for opening in BEFORE.openings}
    after = with_bar(BEFORE)
    assert len(after.openings) == len(BEFORE.openings) + 1
    assert sum(opening.area.wkb in kept for opening in after.openings) == len(BEFORE.openings) - 1


def test_a_bar_across_an_opening_changes_its_pieces_and_those_beside_it_as_the_whole_backing_does() -> None:
    before = make_backing(BEFORE, CHOICES, all_of(BEFORE))
    after = with_bar(BEFORE)
    backing = told(before, CHOICES, after)
    assert backing is not None
    seen = next(backings(after, CHOICES, all_of(after)))
    whole = make_backing(after, CHOICES, all_of(after))
    assert [piece.openings for piece in backing.pieces] == [piece.openings for piece in whole.pieces]
    for piece, rough, finished in zip(backing.pieces, seen.pieces, whole.pieces, strict=True):
        alike = min(shapely.hausdorff_distance(piece.outline, other.outline) for other in (rough, finished))
        assert alike < 0.1, f"piece {piece.number}"
        assert abs(piece.lip_min_mm - finished.lip_min_mm) < 0.05
    made_anew = {piece.outline.wkb for piece in backing.pieces} - {
        piece.outline.wkb for piece in before.pieces
    }
    assert 2 <= len(made_anew) <= 12


def test_pieces_that_hang_on_the_whole_design_are_told_with_it() -> None:
    uniform = replace(CHOICES, mode=Mode.UNIFORM)
    assert told(make_backing(BEFORE, uniform, all_of(BEFORE)), uniform, with_bar(BEFORE)) is None
    shared = replace(CHOICES, shared_bar_mm=4.0)
    assert told(make_backing(BEFORE, shared, all_of(BEFORE)), shared, with_bar(BEFORE)) is None


def test_a_design_that_is_another_throughout_is_told_as_a_whole() -> None:
    before = make_backing(BEFORE, CHOICES, all_of(BEFORE))
    assert told(before, CHOICES, design_of(random_panel(8, rows=3, columns=3).card)) is None
