"""Calls on the plan: trims and mats, by the solver and by hand."""

import time
from collections.abc import Iterator, Sequence

from peekpaper.desk.context import Arguments, Context
from peekpaper.desk.step import Step, result, step
from peekpaper.desk.views import plan_view
from peekpaper.plan.plan import Plan


def plan(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Show ever better plans for the given seconds; answer with the best one."""
    project = context.project(arguments)
    start = time.monotonic()
    best: Plan | None = None
    for latest in context.pipeline.plans(project, float(arguments["seconds"])):
        elapsed = {"elapsed_s": round(time.monotonic() - start, 2)}
        yield step("progress", elapsed if latest is best else {**plan_view(latest), **elapsed})
        best = latest
    if best is not None:
        yield result(plan_view(best))
