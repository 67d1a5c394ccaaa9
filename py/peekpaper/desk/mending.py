"""Calls on mends: what the tool proposes for each finding, what a mend drawn by hand does, and edits.

Changes travel as the project document has them, `{"kind": "bar", "line": [[x, y], ...], "width": w}`, places
and lengths in px of the drawing; see `py/peekpaper/design/mending/mends.py` for the kinds. What the person
draws goes over in mm instead (`try_mend`). All paths, places and areas in answers are in mm of the design.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from time import monotonic
from typing import Any

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.design.design import Design
from peekpaper.design.mending.apply import card_of
from peekpaper.design.mending.drawn import Drawn, drawn, laid_over
from peekpaper.design.mending.effect import Effect, effect_of, placing_of, whole_card
from peekpaper.design.mending.mend_all import Found, added_to
from peekpaper.design.mending.mends import AddBar, AddCard, Change, Mend, Thicken
from peekpaper.design.mending.proposals import Proposal, proposals
from peekpaper.design.mending.repeated import repeated
from peekpaper.design.mending.shapes import CutShape, unit_outline
from peekpaper.desk.context import Arguments, Context
from peekpaper.desk.paths import joined, numbers
from peekpaper.desk.step import BREATH, Step, result, step
from peekpaper.desk.views import seams_path
from peekpaper.pipeline import Pipeline, mat_size
from peekpaper.project.carrying import carried
from peekpaper.project.codec import decode, encode
from peekpaper.project.project import Project
from peekpaper.refusal import Refusal

View = dict[str, Any]

_SLICE_SECONDS = 0.1
"""So long other questions wait."""
_SHOWN_SECONDS = 0.5
"""So long a person waits to see some of many proposals of one kind."""
_WORTH_TELLING = 4
"""All that came so far is told each time: again once there are so many times more."""


def mends(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the project's mends as they lie, and with proposals for what the check still finds.

    `{"mends": [{"id", "kind", "finding", "at": [x, y], "box": [x0, y0, x1, y1], "is_lost": bool,
    "line": [[x, y], ...] | null, "width_mm": w | null}],
    "proposals": [{"finding": code of the warning, "choice": "hold" | "drop" | "glue" | "join" | "fill" | ...,
    "at": [x, y], "box": [x0, y0, x1, y1], "mends": [change, ...], "added": path | null,
    "removed": path | null, "seams": path | null, "changed_mm2", "changed_percent"}]}`.

    `at` and `box` tell where, `line` and `width_mm` how a bar or a wider one runs; `added` and `removed` are
    the card that comes and goes, `seams` where it would be divided, as strips. Proposals of the same finding
    at the same place are choices, the preferred one first. To take some, hand their `mends` back as they are
    to the edit `add_mends`, with `finding`.
    Progress is the same with fewer kinds of findings, or with some of many.
    """
    project = context.project(arguments)
    design = context.pipeline.design(project)
    made = [_mend_view(mend, design) for mend in project.mends]
    told: list[View] = []
    shown = 1
    last = shown_at = monotonic()
    for each in proposals(design, project.limits, mat_size(project)):
        if monotonic() - last > _SLICE_SECONDS:
            yield BREATH
            last = monotonic()
        if each is None:
            continue
        is_other = bool(told) and told[-1]["finding"] != each.finding
        if is_other or (len(told) >= _WORTH_TELLING * shown and monotonic() - shown_at > _SHOWN_SECONDS):
            yield step("progress", {"mends": made, "proposals": told})
            shown, shown_at = max(len(told), 1), monotonic()
        told.append(_proposal_view(each, design))
    yield result({"mends": made, "proposals": told})


def mend_all(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with what mends all that the check finds; the edit `mend_all` takes it.

    `{"mends": [{"finding", "change"}, ...], "added": path | null, "removed": path | null, "changed_mm2",
    "changed_percent", "openings": n, "parts": n, "loose_bits": n, "points": n}`; the counts are those
    afterwards, and `mends` is empty where there is nothing to do. Each progress is `{"found": n}`, the mends
    so far.
    """
    project = context.project(arguments)
    found: tuple[Found, ...] = ()
    told: int | None = None
    last = 0.0
    for found in context.pipeline.mendings(project):
        if len(found) != told or monotonic() - last > _SLICE_SECONDS:
            told = len(found)
            yield step("progress", {"found": told})
            last = monotonic()
    design = context.pipeline.design(project)
    effect = effect_of(design, [each.change for each in found])
    mends = [{"finding": each.finding, "change": encode(each.change)} for each in found]
    yield result({"mends": mends, **_effect_view(effect, design)})


def lighter(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with how much mending all changes, and what else to choose where that is much; each was tried.

    `{"choices": [{"width_mm": w | null, "bar_mm": b | null, "changed_percent": n}, ...]}`. The first is how
    things are, both null; the others are a finished width or a limit for thin bars with which little changes.
    Progress is the same with fewer choices.
    """
    told: list[View] = []
    last = monotonic()
    for choice in context.pipeline.lighter(context.project(arguments)):
        if choice is None:
            if monotonic() - last > _SLICE_SECONDS:
                yield BREATH
                last = monotonic()
            continue
        percent = round(100 * choice.share, 1)
        told.append(
            {"width_mm": choice.width_mm, "bar_mm": choice.bar_mm, "changed_percent": percent},
        )
        yield step("progress", {"choices": told})
    yield result({"choices": told})


def try_mend(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with what a change that the person draws, `change` in mm, would become and do.

    `{"mends": [change in px, ...], "placed": [mend, ...], "repeats": [change in px, ...],
    "added": path | null, "removed": path | null, "changed_mm2", "changed_percent", "openings": n,
    "parts": n, "loose_bits": n, "points": n, "points_before": n}`; the counts are those afterwards, but for
    the last. `placed` are the mends as `mends` tells them, without ids, `repeats` the same on all other
    openings alike to the one it is in.

    Besides changes there are `{"kind": "shape", "shape", "middle", "edge"}`, a simple shape to cut out, and
    `{"kind": "take-bar", "at"}`, the bar between two openings to take away. A bar is cut off at the edges
    that it goes to and meets them squarely where they are near. What can't be done is refused; nothing is
    kept. With the `id` of a mend among the arguments the change is to take that one's place: it is tried
    without it, and there are no `repeats`. Places are those of the design as it is all the same. `{"kind":
    "moved-bar", "line", "width"}` is a bar that is not turned any more.
    """
    project = context.project(arguments)
    design = context.pipeline.design(project)
    asked: Drawn = decode(Drawn, arguments["change"], "mends[0].change")  # type: ignore[arg-type]
    replaced = arguments.get("id")
    if replaced is None:
        made, effect = drawn(design, asked, project.limits)
        repeats = repeated(design, made[0])
    else:
        before, design = design, _without(context.pipeline, project, replaced)
        made, effect = drawn(design, laid_over(asked, before, design), project.limits)
        repeats = ()
    points = int(shapely.get_num_coordinates(whole_card(design)))
    told = {
        "mends": encode(made),
        "placed": [_mend_view(Mend("", change), design) for change in made],
        "repeats": encode(repeats),
        "points_before": points,
    }
    yield result({**told, **_effect_view(effect, design)})


def cut_shapes(_context: Context, _arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the simple shapes that openings may have: `{"shapes": [{"shape", "path"}, ...]}`.

    A path lies about the origin, its farthest points at distance 1.
    """
    shapes = [
        {"shape": shape, "path": joined(MultiPolygon([Polygon(unit_outline(shape))]))} for shape in CutShape
    ]
    yield result({"shapes": shapes})


def mend_edits(pipeline: Pipeline) -> dict[str, Callable[[Project, Mapping[str, Any]], Project]]:
    """Return the edits on mends; each carries decisions on openings over by where they lie.

    `mend_all` `{}` adds what the call of that name answers; `add_mends`
    `{"mends": [change, ...], "finding": code or ""}`; `change_mend` `{"id", "change"}`; `remove_mends`
    `{"ids": [...]}`, which is also how lost ones go; `clear_mends` `{}`, back to the card as it came.
    """
    made: dict[str, Callable[[tuple[Mend, ...], Mapping[str, Any]], tuple[Mend, ...]]] = {
        "add_mends": _added,
        "change_mend": _changed,
        "remove_mends": lambda now, to: tuple(mend for mend in now if mend.id not in to["ids"]),
        "clear_mends": lambda _now, _to: (),
    }

    def edit(change: Callable[[tuple[Mend, ...], Mapping[str, Any]], tuple[Mend, ...]]) -> Any:
        return lambda project, to: _with_mends(pipeline, project, change(project.mends, to))

    def everything(project: Project, _to: Mapping[str, Any]) -> Project:
        return _with_mends(pipeline, project, added_to(project.mends, pipeline.mend_all(project)))

    return {name: edit(change) for name, change in made.items()} | {"mend_all": everything}


def _without(pipeline: Pipeline, project: Project, mend: str) -> Design:
    """Return what is known of a project's design without one of its mends.

    Raises Refusal where that is gone.
    """
    others = tuple(each for each in project.mends if each.id != mend)
    if len(others) == len(project.mends):
        raise Refusal("mend-gone")
    return _seen(pipeline, replace(project, mends=others))


def _with_mends(pipeline: Pipeline, project: Project, wanted: tuple[Mend, ...]) -> Project:
    mended = replace(project, mends=wanted)
    return carried(mended, _seen(pipeline, project), _seen(pipeline, mended))


def _seen(pipeline: Pipeline, project: Project) -> Design:
    """Return what is known of a project's openings soonest."""
    return pipeline.design_preview(project) or pipeline.design(project)


def _added(now: tuple[Mend, ...], to: Mapping[str, Any]) -> tuple[Mend, ...]:
    return added_to(now, [Found(to.get("finding", ""), _change_of(change)) for change in to["mends"]])


def _changed(now: tuple[Mend, ...], to: Mapping[str, Any]) -> tuple[Mend, ...]:
    change = _change_of(to["change"])
    if to["id"] not in {mend.id for mend in now}:
        raise Refusal("mend-gone")
    return tuple(replace(mend, change=change) if mend.id == to["id"] else mend for mend in now)


def _change_of(value: object) -> Change:
    return decode(Mend, {"id": "", "change": value}, "mends[0]").change


def _mend_view(mend: Mend, design: Design) -> View:
    where = _where(mend.change, design)
    return {
        "id": mend.id,
        "kind": mend.change.kind,
        "finding": mend.finding,
        "at": numbers(shapely.get_coordinates(where.centroid)),
        "box": numbers(where.bounds),
        "is_lost": mend.id in design.lost_mends,
        **_run_view(mend.change, design),
    }


def _run_view(change: Change, design: Design) -> View:
    """Return how a bar or a wider one runs."""
    if not isinstance(change, AddBar | Thicken):
        return {"line": None, "width_mm": None}
    placing = placing_of(design)
    line = np.round(placing.places(change.line), 4).tolist()
    return {"line": line, "width_mm": round(change.width * placing.mm_per_px, 3)}


def _where(change: Change, design: Design) -> BaseGeometry:
    """Return where a change is; one that is everywhere is where the card is."""
    placing = placing_of(design)
    if isinstance(change, AddCard):
        return card_of(change, placing)
    places = getattr(change, "line", None) or getattr(change, "outline", None)
    if places is not None:
        reach = getattr(change, "radius", None) or getattr(change, "width", 0.0) / 2
        # An outline reaches no farther than its own places.
        points = shapely.MultiPoint(placing.places(places)).convex_hull
        return points.buffer(reach * placing.mm_per_px) if reach else points
    at = getattr(change, "at", None)
    return shapely.box(0, 0, design.width_mm, design.height_mm) if at is None else placing.place(at)


def _proposal_view(proposal: Proposal, design: Design) -> View:
    around = shapely.GeometryCollection([proposal.at, proposal.added, proposal.removed, *_seams(proposal)])
    return {
        "finding": proposal.finding,
        "choice": proposal.choice,
        "at": numbers(shapely.get_coordinates(proposal.at)),
        "box": numbers(around.bounds),
        "mends": [encode(change) for change in proposal.changes],
        "seams": seams_path(proposal.seams),
        **_changed_view(proposal.added, proposal.removed, design),
    }


def _seams(proposal: Proposal) -> list[BaseGeometry]:
    return [] if proposal.seams is None else [proposal.seams]


def _effect_view(effect: Effect, design: Design) -> View:
    return {
        **_changed_view(effect.added, effect.removed, design),
        "openings": len(effect.after.openings),
        "parts": len(effect.after.card.geoms),
        "loose_bits": len(effect.after.loose_bits.geoms),
        "points": int(shapely.get_num_coordinates([effect.after.card, effect.after.loose_bits]).sum()),
    }


def _changed_view(added: MultiPolygon, removed: MultiPolygon, design: Design) -> View:
    changed = added.area + removed.area
    return {
        "added": joined(added),
        "removed": joined(removed),
        "changed_mm2": round(changed, 2),
        "changed_percent": round(100 * changed / design.card.area, 2),
    }
