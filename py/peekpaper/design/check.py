"""All checks before cutting, worst first."""

from peekpaper.design.checks import card, file
from peekpaper.design.checks.inspected import Inspected
from peekpaper.design.design import DesignWarning

_CHECKS = (
    card.loose_bits,
    file.no_openings,
    card.touching_edges,
    card.thin_bars,
    card.thin_necks,
    file.mended_contours,
    card.separate_parts,
    file.very_small,
    file.larger_than_mat,
    file.lost,
    file.off_page,
    file.size_is_a_guess,
    file.left_out,
    file.slivers,
    file.lost_mends,
    card.small_openings,
)


def check(seen: Inspected) -> tuple[DesignWarning, ...]:
    """Return what to know before the first cut, worst first."""
    found = seen.design.still_told(warning for look in _CHECKS for warning in look(seen))
    return tuple(sorted(found, key=lambda warning: -warning.severity))
