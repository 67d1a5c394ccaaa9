"""How long cutting takes: the machine's path and its lifts (common practice, no published source)."""

from peekpaper.plan.plan import CutSpeed
from peekpaper.refusal import Refusal


def cut_seconds(cut_length_mm: float, pieces: int, speed: CutSpeed) -> float:
    """Return the estimated seconds to cut so many pieces with outlines of that length altogether."""
    return cut_length_mm / speed.mm_per_second + pieces * speed.seconds_per_piece


def calibrated(speed: CutSpeed, cut_length_mm: float, pieces: int, measured_seconds: float) -> CutSpeed:
    """Return the speed at which a cut of the person's own takes as long as they measured.

    One cut can't tell cutting from lifting, so both are scaled alike. Raises Refusal for a cut without
    length or time.
    """
    if not (measured_seconds > 0 and cut_length_mm > 0):
        raise Refusal("time-a-cut")
    factor = measured_seconds / cut_seconds(cut_length_mm, pieces, speed)
    return CutSpeed(speed.mm_per_second / factor, speed.seconds_per_piece * factor)
