"""Calls that book what was cut: sheets and scraps leave the stash, left-overs come back; and undo that."""

from collections.abc import Iterator, Sequence
from secrets import token_hex

from peekpaper.backing.backing import Backing
from peekpaper.desk.context import Arguments, Context
from peekpaper.desk.stashing import stash_of
from peekpaper.desk.step import Step, result
from peekpaper.pipeline import chosen_colourway, planned
from peekpaper.plan.booking.booking import Cutting, History, Taken, WholeSheet, booked, taken_back
from peekpaper.plan.plan import Cut
from peekpaper.project.codec import decode, encode
from peekpaper.project.project import Project
from peekpaper.refusal import Refusal


def book(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the stash once what the last plan takes has left it, with what was taken, and the cut.

    Raises Refusal where no paper of the plan is from the stash, or a scrap that it uses is there no more.
    """
    project = context.project(arguments)
    plan = context.pipeline.last_plan(project)
    if plan is None:
        raise Refusal("plan-not-ready")
    shelf = planned(project).shelf
    whole = _whole_back(project, context.pipeline.backing(project))
    after = booked(
        stash_of(arguments),
        Cutting(shelf, plan, whole, project.plan.least_scrap_mm),
        lambda: token_hex(8),
    )
    if not after.taken:
        raise Refusal("nothing-to-book")
    cut = Cut(chosen_colourway(project).id, token_hex(8), shelf.scraps, plan.rounds)
    yield result(
        {"stash": encode(after.stash), "taken": [encode(one) for one in after.taken], "cut": encode(cut)}
    )


def take_back(_context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the stash as if a booking had not been. Raises Refusal where it was cut from since."""
    taken = [decode(Taken, one) for one in arguments["taken"]]
    yield result({"stash": encode(taken_back(stash_of(arguments), taken, lambda: token_hex(8)))})


def read_history(_context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with a history of cuts that came from elsewhere, once it was found to be one."""
    history = decode(History, arguments["history"])
    yield result({"bookings": [encode(one) for one in history.bookings]})


def _whole_back(project: Project, backing: Backing) -> WholeSheet | None:
    wanted, area = project.backing.whole_back, backing.whole_back
    if wanted is None or area is None or area.is_empty:
        return None
    left, top, right, bottom = area.bounds
    return WholeSheet(wanted.paper, right - left, bottom - top)
