"""All work on one paper's trims after the first answer: first fewer trims, then smaller ones."""

from collections.abc import Iterator, Sequence

from peekpaper.plan.gather import Gatherer
from peekpaper.plan.improve import Improver
from peekpaper.plan.layout import Layout
from peekpaper.plan.task import PaperTask


class PaperWorker:
    """Works on the trims of one paper, round by round; `layouts` are the best so far."""

    def __init__(self, task: PaperTask, layouts: Sequence[Layout]) -> None:
        self.paper = task.paper.id
        self.layouts = tuple(layouts)
        self._task = task
        self._has_begun = False
        self._gatherer: Gatherer | None = None
        self._improver: Improver | None = None

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
            if self._gatherer is None:
                self._improver = self._make_improver()
            yield
        elif self._gatherer is not None:
            yield from self._gather(self._gatherer)
        elif self._improver is not None:
            before = self._improver.best
            yield from self._improver.round()
            better = self._improver.best
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
            self._improver = self._make_improver()

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

    def _make_improver(self) -> Improver | None:
        loose = self._loose()
        return None if loose is None else Improver(self._task, loose)

    def _loose(self) -> Layout | None:
        """Return the one trim that may become smaller, the last."""
        return next((layout for layout in reversed(self.layouts) if not layout.keeps_size), None)
