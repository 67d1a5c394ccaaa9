"""A trim while it is sought: its size and where its pieces lie, before it has a place on a mat."""

from collections.abc import Mapping
from dataclasses import dataclass

from peekpaper.plan.shapes.shape import Pose


@dataclass(frozen=True, slots=True)
class Layout:
    """A trim of `paper` with its pieces; `poses` by index of the shape among its paper's.

    `fixed` holds the indices of pieces that the person pinned. A trim that `keeps_size` is a whole
    scrap, a full sheet or one that the person pinned.
    """

    id: str
    paper: str
    width_mm: float
    height_mm: float
    scrap: str | None
    keeps_size: bool
    poses: Mapping[int, Pose]
    fixed: frozenset[int] = frozenset()

    @property
    def area_mm2(self) -> float:
        """The trim's area."""
        return self.width_mm * self.height_mm
