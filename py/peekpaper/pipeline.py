"""The steps in their order: a project in; its design, backing and plan out, each computed once.

This is the one thread on which the page's desk and the headless commands string the steps. What a step
gave is kept as long as what went into it stays the same, so that moving one control computes only what
lies behind it.
"""

from collections.abc import Callable, Hashable, Iterator
from contextlib import suppress
from dataclasses import replace
from hashlib import sha256
from typing import Generic, TypeVar

from peekpaper import __version__
from peekpaper.backing.backing import Backing, BackingChoices
from peekpaper.backing.kept import BackingBench
from peekpaper.backing.make import backings
from peekpaper.backing.touched import touched_up
from peekpaper.breathing import Breathing, out_of_breath
from peekpaper.design.design import Design, MatSize
from peekpaper.design.habits import Sheet
from peekpaper.design.make import designs
from peekpaper.design.mending.lighter import (
    MUCH,
    STEPS,
    Lighter,
    bar_that_changes_little,
    changed_share,
    larger_widths,
    thinner_limits,
)
from peekpaper.design.mending.mend_all import Found, mendings
from peekpaper.design.mending.mends import DivideCard
from peekpaper.design.motifs.motif import Motif
from peekpaper.design.motifs.motifs import found_motifs, with_decided
from peekpaper.design.openings.likeness import Likeness, likeness, looked_alike
from peekpaper.design.possible import PossibleReading, possible_readings
from peekpaper.design.size import first_tolerance, tolerance_for
from peekpaper.drawing.read import Tolerance, read_drawing
from peekpaper.papers.paper import Colourway, Shelf
from peekpaper.plan.by_turns import FoundByPaper
from peekpaper.plan.cutting import cut_seconds
from peekpaper.plan.kept import KeptPlan, keep_plan, restored
from peekpaper.plan.make import make_ready, plan_of, plans
from peekpaper.plan.plan import PieceToPlace, Plan, are_at_most, rounds_of
from peekpaper.plan.trims.task import PaperTask
from peekpaper.project.codec import Mismatch, decode
from peekpaper.project.project import Project

Value = TypeVar("Value")


def chosen_colourway(project: Project) -> Colourway:
    """Return the project's chosen colourway: the first where the choice is unknown, empty where none is."""
    for colourway in project.colourways:
        if colourway.id == project.colourway:
            return colourway
    return project.colourways[0] if project.colourways else Colourway("", "")


def _with_choice(project: Project, choice: Lighter) -> Project:
    """Return a project with what a choice sets of finished width and limit for bars."""
    if choice.width_mm is not None:
        project = replace(project, reading=replace(project.reading, width_mm=choice.width_mm, height_mm=None))
    if choice.bar_mm is not None:
        project = replace(project, limits=replace(project.limits, bar_mm=choice.bar_mm))
    return project


def mat_size(project: Project) -> MatSize:
    """Return the mat that a project's card is to be cut on."""
    plan = project.plan
    return MatSize(plan.mat_width_mm, plan.mat_height_mm, plan.mat_rim_mm)


def planned(project: Project) -> Project:
    """Return a project as its plan sees it: what was cut stays so, whatever became of paper since."""
    chosen = chosen_colourway(project).id
    cut = next((cut for cut in project.cuts if cut.colourway == chosen), None)
    if cut is None:
        return project
    papers = tuple(replace(paper, sheets=None) for paper in project.shelf.papers)
    at_hand = {paper.id for paper in papers}
    scraps = tuple(scrap for scrap in cut.scraps if scrap.paper in at_hand)
    return replace(project, shelf=Shelf(papers, scraps), plan=replace(project.plan, rounds=cut.rounds))


def _lengths_of(choices: BackingChoices) -> BackingChoices:
    """Return choices without what they say of openings by number, which mends renumber."""
    return replace(choices, joined=(), split=(), simple_shapes=())


class Kept(Generic[Value]):
    """The last few values of one step, by what went into them."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._values: dict[Hashable, Value] = {}

    def find(self, key: Hashable) -> Value | None:
        """Return the value kept under `key`, or None."""
        return self._values.get(key)

    def keep(self, key: Hashable, value: Value) -> None:
        """Keep a value under `key`, in the oldest one's stead."""
        while len(self._values) >= self._most:
            del self._values[next(iter(self._values))]
        self._values[key] = value

    def get(self, key: Hashable, make: Callable[[], Value]) -> Value:
        """Return the value kept under `key`, or make it and keep it."""
        value = self.find(key)
        if value is None:
            value = make()
            self.keep(key, value)
        return value


class Retold(Generic[Value]):
    """Values of an iterator, each computed once, however often they are asked for."""

    def __init__(self, values: Iterator[Value]) -> None:
        self._coming = values
        self._told: list[Value] = []

    def __iter__(self) -> Iterator[Value]:
        index = 0
        while True:
            if index == len(self._told):
                try:
                    self._told.append(next(self._coming))
                except StopIteration:
                    return
            yield self._told[index]
            index += 1


class Pipeline:
    """Runs the steps for projects and keeps what each gave."""

    def __init__(self) -> None:
        self._sheets: Kept[Sheet] = Kept(4)
        self._readings: dict[str, Retold[PossibleReading]] = {}
        self._designs: Kept[Design] = Kept(4)
        self._seen: dict[Hashable, tuple[Design, Iterator[Design]]] = {}
        self._likenesses: Kept[Likeness] = Kept(4)
        self._mended: Kept[tuple[Found, ...]] = Kept(4)
        self._backings: Kept[Backing] = Kept(8)
        self._backing_bench = BackingBench()
        self._begun: dict[Hashable, Iterator[Backing]] = {}
        self._last_backed: tuple[Design, BackingChoices, Backing] | None = None
        self._tasks: dict[Hashable, tuple[PaperTask, ...]] = {}
        self._plans: dict[Hashable, Plan] = {}

    def _fine_sheet(self, project: Project) -> Sheet:
        """Return the project's file as painted shapes, fine enough for its finished size."""
        first = self._sheet(project.source.svg, first_tolerance)
        wanted = tolerance_for(first.drawing, project.reading)
        return first if wanted >= first.drawing.tolerance else self._sheet(project.source.svg, wanted)

    def _sheet(self, svg: str, tolerance: Tolerance) -> Sheet:
        return self._sheets.get((svg, tolerance), lambda: Sheet(read_drawing(svg.encode(), tolerance)))

    def readings(self, project: Project) -> Iterator[PossibleReading]:
        """Yield the sensible ways of reading the project's file, the one that the reader chooses first.

        Raises Refusal where the file is no design.
        """
        key = project.source.svg
        if key not in self._readings:
            self._readings = {key: Retold(possible_readings(self._sheet(key, first_tolerance)))}
        return iter(self._readings[key])

    def design(self, project: Project) -> Design:
        """Return the project's design at its finished size. Raises Refusal where the file is no design."""
        return out_of_breath(self.design_in_slices(project))

    def design_in_slices(self, project: Project) -> Breathing[Design]:
        """Return what `design` does; others may go on with the same design meanwhile."""
        key = self._design_key(project)
        whole = self._designs.find(key)
        while whole is None:
            seen, making = self._seen.pop(key) if key in self._seen else self._begin_design(project)
            made = next(making)
            if made.is_whole:
                self._designs.keep(key, made)
                return made
            self._seen = {key: (seen, making)}
            yield
            whole = self._designs.find(key)
        return whole

    def design_preview(self, project: Project) -> Design | None:
        """Return what can be seen of the design, quickly; None where the whole design is kept already.

        `design` goes on from there. Raises Refusal where the file is no design.
        """
        key = self._design_key(project)
        if self._designs.find(key) is not None:
            return None
        if key not in self._seen:
            self._seen = {key: self._begin_design(project)}
        return self._seen[key][0]

    def likeness(self, project: Project) -> Likeness:
        """Return how the project's openings look alike. Raises Refusal where the file is no design."""
        return self._likenesses.get(
            self._design_key(project), lambda: likeness(self.design(project).openings)
        )

    def as_it_looks(self, project: Project) -> Design:
        """Return the project's design with those openings alike that the person, or the design, calls so.

        Raises Refusal where the file is no design.
        """
        found = self.likeness(project)
        degree = found.usual if project.likeness is None else project.likeness
        return looked_alike(self.design(project), found.groups[degree])

    def found_motifs(self, project: Project) -> tuple[Motif, ...]:
        """Return the motifs seen in the project's design. Raises Refusal where the file is no design."""
        found = self.likeness(project)
        return found_motifs(looked_alike(self.design(project), found.groups[found.usual]))

    def motifs(self, project: Project) -> tuple[Motif, ...]:
        """Return the person's own motifs, then those found; each opening is in one.

        Raises Refusal where the file is no design.
        """
        return with_decided(self.found_motifs(project), project.motifs, self.design(project))

    def glued_motifs(self, project: Project) -> tuple[Motif, ...]:
        """Return the motifs that are glued one after another; none where gluing goes by bands and papers.

        Raises Refusal where the file is no design.
        """
        return self.motifs(project) if project.glue_by_motif else ()

    def mend_all(self, project: Project) -> tuple[Found, ...]:
        """Return what mends all that the check finds in a project's design as it is mended so far.

        Raises Refusal where the file is no design.
        """
        *_, found = self.mendings(project)
        return found

    def mendings(self, project: Project) -> Iterator[tuple[Found, ...]]:
        """Yield what mends some of what the check finds, at last all that `mend_all` returns.

        Raises Refusal where the file is no design.
        """
        key = self._design_key(project)
        kept = self._mended.find(key)
        found: tuple[Found, ...] = kept or ()
        if kept is None:
            for found in mendings(self.design(project), project.limits):
                yield found
            found = (*found, *self._divided(project))
            self._mended.keep(key, found)
        yield found

    def _divided(self, project: Project) -> tuple[Found, ...]:
        """Return what divides a card that is larger than the mat, unless its size is a guess."""
        design = self.design(project)
        is_larger = any(warning.code == "larger-than-mat" for warning in design.still_told(design.warnings))
        if not is_larger or design.joint is not None or design.size_is_a_guess:
            return ()
        return (Found("larger-than-mat", DivideCard()),)

    def lighter(self, project: Project) -> Iterator[Lighter | None]:
        """Yield what else the person could choose where mending all changes too much; each was tried.

        First how much it changes as it is; then, where that is much, a larger finished width and a thinner
        limit with which it changes little, round in the project's unit, if there are such. None stands
        between where the caller may breathe or stop. Raises Refusal where the file is no design.
        """
        as_it_is = yield from self._changed_share(project)
        yield Lighter(as_it_is)
        if as_it_is <= MUCH:
            return
        design, limits, steps = self.design(project), project.limits, STEPS[project.units]
        bar = bar_that_changes_little(design, limits)
        for choices in (
            larger_widths(design, limits, bar, steps.width_mm),
            thinner_limits(bar, steps.bar_mm),
        ):
            for choice in choices:
                share = yield from self._changed_share(_with_choice(project, choice))
                if share <= MUCH:
                    yield replace(choice, share=share)
                    break

    def _changed_share(self, project: Project) -> Breathing[float]:
        """Return the share of the card that mending all changes."""
        self.design_preview(project)
        yield
        design = self.design(project)
        yield
        for _ in self.mendings(project):
            yield
        return changed_share(design, self.mend_all(project))

    def _begin_design(self, project: Project) -> tuple[Design, Iterator[Design]]:
        mat = mat_size(project)
        making = designs(self._fine_sheet(project), project.reading, project.limits, project.mends, mat)
        return next(making), making

    def _design_key(self, project: Project) -> tuple[Hashable, ...]:
        return (project.source.svg, project.reading, project.limits, project.mends, mat_size(project))

    def backing(self, project: Project) -> Backing:
        """Return the pieces for the chosen colourway. Raises Refusal for choices that can't work."""
        key = self._backing_key(project)
        whole = self._backings.find(key)
        if whole is None:
            *_, whole = self._begun.pop(key, None) or self._making(project)
            self._backings.keep(key, whole)
        self._last_backed = (self.design(project), project.backing, whole)
        return whole

    def backing_touched_up(self, project: Project) -> Backing | None:
        """Return the pieces as they roughly will be, from the last backing, before the whole design is made.

        None where that can't be told from few openings alone. Raises Refusal where the file is no design.
        """
        if self._last_backed is None:
            return None
        before, choices, backing = self._last_backed
        if _lengths_of(choices) != _lengths_of(project.backing):
            return None
        design = self.design_preview(project) or self.design(project)
        papers = chosen_colourway(project).papers
        return touched_up(before, backing, design, project.backing, papers)

    def backing_preview(self, project: Project) -> Backing | None:
        """Return the pieces as they roughly will be, quickly; None where the whole backing is kept already.

        `backing` goes on from there. Raises Refusal for choices that can't work.
        """
        key = self._backing_key(project)
        if self._backings.find(key) is not None:
            return None
        making = self._making(project)
        # What is refused leaves nothing to go on from.
        first = next(making)
        self._begun = {key: making}
        return first

    def _making(self, project: Project) -> Iterator[Backing]:
        papers = chosen_colourway(project).papers
        return backings(self.design(project), project.backing, papers, self._backing_bench)

    def _backing_key(self, project: Project) -> Hashable:
        papers = tuple(sorted(chosen_colourway(project).papers.items()))
        return (*self._design_key(project), project.backing, papers)

    def _plan_key(self, project: Project) -> Hashable:
        seen = planned(project)
        return (self._backing_key(project), seen.shelf, replace(seen.plan, rounds=None))

    def pieces_to_place(self, project: Project) -> tuple[PieceToPlace, ...]:
        """Return the backing pieces as the plan sees them; a shared piece is alike to no other."""
        design = self.design(project)
        alike = {opening.number: opening.alike for opening in design.openings}
        return tuple(
            PieceToPlace(
                piece.number,
                piece.paper,
                piece.outline,
                alike[piece.number] if len(piece.openings) == 1 else -piece.number,
                project.backing.lip_mm,
                design.width_mm,
            )
            for piece in self.backing(project).pieces
        )

    def plans(self, project: Project, seconds: float) -> Iterator[Plan | None]:
        """Yield ever better plans, None until there is one; the last is kept for `last_plan`.

        Raises Refusal as the plan does.

        Where a plan for the same decisions is kept the search goes on from it: it is yielded until another
        took more rounds, and alone where it took as many rounds as the project asks for or no time is given.
        """
        seen = planned(project)
        kept, is_all = self.plan_to_go_on_from(project, seconds)
        if kept is not None and is_all:
            yield kept
            return
        for plan in plans(self.pieces_to_place(project), seen.shelf, seen.plan, project.speed, seconds):
            if plan is not None and (kept is None or are_at_most(kept.rounds, plan.rounds)):
                kept = self._keep(project, plan)
            yield kept

    def plan_to_go_on_from(self, project: Project, seconds: float) -> tuple[Plan | None, bool]:
        """Return the plan that a search of so many seconds starts from, and whether that is all it asks for.

        None where there is none, or where more went into it than the project asks for.
        """
        rounds = planned(project).plan.rounds
        kept = self.last_plan(project)
        if kept is None:
            return None, False
        if rounds is None:
            return kept, seconds <= 0
        asked = rounds_of(rounds)
        if all(asked.get(paper, 0) == done for paper, done in rounds_of(kept.rounds).items()):
            return replace(kept, complete=True), True
        return (kept if are_at_most(kept.rounds, rounds) else None), False

    def paper_tasks(self, project: Project) -> Breathing[tuple[PaperTask, ...]]:
        """Return what is to be sought for each paper. Raises Refusal as the plan does."""
        key, seen = self._plan_key(project), planned(project)
        if key not in self._tasks:
            self._tasks = {key: (yield from make_ready(self.pieces_to_place(project), seen.shelf, seen.plan))}
        return tuple(replace(task, choices=seen.plan) for task in self._tasks[key])

    def take_found(self, project: Project, found: FoundByPaper, is_all: bool) -> Plan:
        """Return the plan of what was found for each paper elsewhere; the last one where more went into it.

        `is_all` tells that the search has ended.
        """
        tasks = out_of_breath(self.paper_tasks(project))
        plan = plan_of(tasks, found, planned(project).plan, project.speed)
        kept, _ = self.plan_to_go_on_from(project, 0.0)
        if kept is not None and not are_at_most(kept.rounds, plan.rounds):
            plan = kept
        return self._keep(project, replace(plan, complete=is_all))

    def _keep(self, project: Project, plan: Plan) -> Plan:
        self._plans = {self._plan_key(project): plan}
        return plan

    def kept_plan(self, project: Project, sent_as: Project | None = None) -> KeptPlan | None:
        """Return the last plan as it is kept with the project, None where there is none.

        `sent_as` is the same project where that leaves with its size written down.
        """
        plan = self.last_plan(project)
        return None if plan is None else keep_plan(plan, self._basis(sent_as or project))

    def kept_as_sent(self, kept: object, project: Project, sent_as: Project) -> KeptPlan | None:
        """Return a plan that was kept as it goes along with the project, None where it no longer holds.

        `kept` and `sent_as` are as with `take_kept` and `kept_plan`.
        """
        plan = _read_kept(kept)
        if plan is None or plan.basis != self._basis(project):
            return None
        return replace(plan, basis=self._basis(sent_as))

    def take_kept(self, project: Project, kept: object) -> None:
        """Go on from a plan that was kept, where it is of the project as it is and none is known.

        `kept` is the JSON of a `KeptPlan`, of which nothing is known yet. Raises Refusal as `backing` does.
        """
        kept_plan = _read_kept(kept)
        if kept_plan is not None and self.last_plan(project) is None:
            pieces, shelf = self.pieces_to_place(project), planned(project).shelf
            plan = restored(kept_plan, self._basis(project), pieces, shelf)
            if plan is not None:
                self._plans = {self._plan_key(project): plan}

    def _basis(self, project: Project) -> str:
        """Return what names the decisions that a plan is made from, and the version that makes it."""
        return sha256(repr((__version__, self._plan_key(project))).encode()).hexdigest()

    def last_plan(self, project: Project) -> Plan | None:
        """Return the last plan made for these decisions, timed at the project's speed, or None."""
        plan = self._plans.get(self._plan_key(project))
        if plan is None:
            return None
        pieces = sum(len(trim.pieces) for trim in plan.trims)
        return replace(plan, seconds=cut_seconds(plan.cut_length_mm, pieces, project.speed))


def _read_kept(kept: object) -> KeptPlan | None:
    # What an earlier version kept, or what was spoilt, is worth no word: the plan is sought anew.
    with suppress(Mismatch):
        return None if kept is None else decode(KeptPlan, kept)
    return None
