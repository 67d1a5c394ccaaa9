"""All work on one paper's trims after the first answer: first fewer trims, then smaller ones.

A smaller trim is sought in two ways, in turns: by a close fit, as long as one may be found, and by overlap
minimisation.
"""

from collections.abc import Iterator, Sequence

from peekpaper.plan.fitter import Fitter
from peekpaper.plan.gather import Gatherer
from peekpaper.plan.improve import Improver
from peekpaper.plan.layout import Layout
from peekpaper.plan.task import PaperTask

FITS_TO_A_ROUND = 4
"""How many rounds a close fit gets to one of the other way, whose rounds take longer."""


class PaperWorker:
    """Works on the trims of one paper, round by round; `layouts` are the best so far."""

    def __init__(self, task: PaperTask, layouts: Sequence[Layout]) -> None:
        self.paper = task.paper.id
        self.layouts = tuple(layouts)
        self._task = task
        self._has_begun = False
        self._gatherer: Gatherer | None = None
        self._improver: Improver | None = None
        self._fitter: Fitter | None = None
        self._turn = 0

    @property
    def is_done(self) -> bool:
        """Tell whether nothing is left to try."""
        if not self._has_begun or self._gatherer is not None:
            return False
        return self._improver is None or self._improver.is_done

    def round(self) -> Iterator[None]:
        """Work a little; yields to let the caller breathe."""
        if not self._has_begun:
            self._has_begun = True
            self._gatherer = self._make_gatherer()
            yield
            if self._gatherer is None:
                yield from self._begin_shrinking()
        elif self._gatherer is not None:
            yield from self._gather(self._gatherer)
        elif self._improver is not None:
            yield from self._shrink(self._improver)

    def _shrink(self, improver: Improver) -> Iterator[None]:
        before = better = improver.best
        self._turn += 1
        if self._fitter is not None and not self._fitter.is_done and self._turn % (FITS_TO_A_ROUND + 1):
            yield from self._fitter.round()
            if self._fitter.best.area_mm2 < before.area_mm2:
                better = self._fitter.best
                self._improver = Improver(self._task, better)
        else:
            yield from improver.round()
            better = improver.best
        self.layouts = tuple(better if layout is before else layout for layout in self.layouts)

    def _gather(self, gatherer: Gatherer) -> Iterator[None]:
        full, rest = gatherer.full, gatherer.rest
        yield from gatherer.round()
        if gatherer.full is not full:
            replaced = {id(full): gatherer.full, id(rest): gatherer.rest}
            changed = (replaced.get(id(layout), layout) for layout in self.layouts)
            self.layouts = tuple(layout for layout in changed if layout is not None)
        if gatherer.is_done:
            self._gatherer = None
            yield from self._begin_shrinking()

    def _make_gatherer(self) -> Gatherer | None:
        """Return a gatherer for the last full sheet and the trim that takes its overflow."""
        pinned = {pin.trim for pin in self._task.trim_pins}
        sheets = [
            layout
            for layout in self.layouts
            if layout.keeps_size and not layout.scrap and layout.id not in pinned
        ]
        loose = self._loose()
        return Gatherer(self._task, sheets[-1], loose) if sheets and loose is not None else None

    def _begin_shrinking(self) -> Iterator[None]:
        loose = self._loose()
        if loose is not None:
            improver = Improver(self._task, loose)
            yield
            self._improver, self._fitter = improver, Fitter(self._task, loose)
            yield

    def _loose(self) -> Layout | None:
        """Return the one trim that may become smaller, the last."""
        return next((layout for layout in reversed(self.layouts) if not layout.keeps_size), None)
