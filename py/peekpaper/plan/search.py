"""All work on one paper's trims after the first answer: first fewer trims, then smaller ones.

A smaller trim is sought by packing rectangles, where the pieces are such, then by overlap minimisation.
"""

from collections.abc import Iterator, Sequence

from peekpaper.plan.fill.rectangles import RectanglePacking
from peekpaper.plan.overlap.gather import Gathering
from peekpaper.plan.overlap.shrink import Shrinking
from peekpaper.plan.trims.layout import Layout
from peekpaper.plan.trims.task import PaperTask


class PaperSearch:
    """Works on the trims of one paper, round by round.

    `layouts` are the best so far. They change only where a round ends, so that the same number of rounds
    gives the same layouts, wherever the round after them is broken off.
    """

    def __init__(self, task: PaperTask, layouts: Sequence[Layout]) -> None:
        self.paper = task.paper.id
        self.layouts = tuple(layouts)
        self._task = task
        self._has_begun = False
        self._gathering: Gathering | None = None
        self._packing: RectanglePacking | None = None
        self._shrinking: Shrinking | None = None

    @property
    def is_done(self) -> bool:
        """Tell whether nothing is left to try."""
        if not self._has_begun or self._gathering is not None or self._packing is not None:
            return False
        return self._shrinking is None or self._shrinking.is_done

    def round(self) -> Iterator[None]:
        """Work a little; yields to let the caller breathe. None may follow one that was broken off."""
        found = self.layouts
        if not self._has_begun:
            self._has_begun = True
            self._gathering = self._make_gathering()
            yield
            if self._gathering is None:
                yield from self._begin_shrinking(found)
        elif self._gathering is not None:
            full, rest = self._gathering.full, self._gathering.rest
            yield from self._gathering.round()
            replaced = {id(full): self._gathering.full, id(rest): self._gathering.rest}
            changed = (replaced.get(id(layout), layout) for layout in found)
            found = tuple(layout for layout in changed if layout is not None)
            if self._gathering.is_done:
                self._gathering = None
                yield from self._begin_shrinking(found)
        elif self._packing is not None:
            packing, before = self._packing, self._packing.best
            yield from packing.round()
            found = tuple(packing.best if layout is before else layout for layout in found)
            if packing.is_done:
                self._packing, self._shrinking = None, Shrinking(self._task, packing.best)
        elif self._shrinking is not None:
            before = self._shrinking.best
            yield from self._shrinking.round()
            found = tuple(self._shrinking.best if layout is before else layout for layout in found)
        self.layouts = found

    def _make_gathering(self) -> Gathering | None:
        """Return what gathers pieces onto the last full sheet, off the trim that takes its overflow."""
        pinned = {pin.trim for pin in self._task.trim_pins}
        sheets = [
            layout
            for layout in self.layouts
            if layout.keeps_size and not layout.scrap and layout.id not in pinned
        ]
        loose = _loose(self.layouts)
        return Gathering(self._task, sheets[-1], loose) if sheets and loose is not None else None

    def _begin_shrinking(self, layouts: Sequence[Layout]) -> Iterator[None]:
        loose = _loose(layouts)
        if loose is not None:
            packing = RectanglePacking(self._task, loose)
            if packing.is_done:
                self._shrinking = Shrinking(self._task, loose)
            else:
                self._packing = packing
            yield


def _loose(layouts: Sequence[Layout]) -> Layout | None:
    """Return the one trim that may become smaller, the last."""
    return next((layout for layout in reversed(layouts) if not layout.keeps_size), None)
