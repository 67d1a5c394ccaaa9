"""Calls on the stash, one shelf for all projects, which the page keeps."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from secrets import token_hex
from typing import Any

from peekpaper.desk.context import Arguments, Context, words_in
from peekpaper.desk.step import Step, result
from peekpaper.papers.paper import Shelf
from peekpaper.papers.stash import (
    ColourOrder,
    first_shelf,
    in_colour_order,
    is_used_up,
    laid_in,
    restocked,
    runs_low,
    touches_plan,
    with_papers,
)
from peekpaper.pipeline import chosen_colourway, planned
from peekpaper.project.codec import decode, encode
from peekpaper.project.project import Project
from peekpaper.project.shelf_file import shelf_from_json, shelf_to_json
from peekpaper.project.shelf_sound import refuse_unsound_shelf
from peekpaper.project.shelving import add_shelf


def restock(project: Project, to: Mapping[str, Any]) -> Project:
    """Return the project with its papers as they are in the stash by now."""
    return replace(project, shelf=restocked(project.shelf, stash_of(to)))


def stock(project: Project, to: Mapping[str, Any]) -> Project:
    """Return a new project with the stash's papers instead of those to try things out; the file's own stay.

    An empty stash changes nothing.
    """
    stash = stash_of(to)
    if not stash.papers:
        return project
    given = set(chosen_colourway(project).papers.values())
    kept = tuple(paper for paper in project.shelf.papers if paper.id in given)
    first = first_shelf(stash)
    wanted = [paper.stash for paper in first.papers if paper.stash]
    return replace(project, shelf=with_papers(Shelf(kept), stash, wanted))


def take_from_stash(project: Project, to: Mapping[str, Any]) -> Project:
    """Return the project with more papers of the stash on its shelf."""
    return replace(project, shelf=with_papers(project.shelf, stash_of(to), to["papers"]))


def lay_in(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the stash after papers of a project were laid in, and their ids there by their own."""
    project = context.project(arguments)
    laid = laid_in(stash_of(arguments), project.shelf, arguments["papers"], lambda: token_hex(8))
    yield result({"stash": encode(laid.stash), "links": dict(laid.links)})


def stash_view(_context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the ids of papers in each order by colour, of those used up, and of those that run low."""
    stash = stash_of(arguments)
    orders = {str(order): list(in_colour_order(stash.papers, order)) for order in ColourOrder}
    used_up = [paper.id for paper in stash.papers if is_used_up(paper, stash.scraps)]
    low = [paper.id for paper in stash.papers if runs_low(paper)]
    yield result({"orders": orders, "used_up": used_up, "low": low})


def reorder_list(_context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with what to buy again for projects' plans, and what runs low: rows, and a table as CSV."""
    from peekpaper.papers.reorder import Need, reorder
    from peekpaper.sheets.reorder_list import reorder_csv

    rows = reorder(stash_of(arguments), [decode(Need, need) for need in arguments["needs"]])
    table = reorder_csv(rows, arguments["unit"], words_in(arguments))
    yield result({"rows": [encode(row) for row in rows], "table": {"buffer": 0}}, (table,))


def stash_touches(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with whether the stash as it is by now changes what a project's plan goes by."""
    project = context.project(arguments)
    used = set(chosen_colourway(project).papers.values())
    before, after = (planned(one).shelf for one in (project, restock(project, arguments)))
    yield result({"touches": touches_plan(before, after, used)})


def save_stash(_context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the stash as a shelf file."""
    yield result({"name": "my papers.json", "text": shelf_to_json(stash_of(arguments))})


def add_to_stash(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the stash after the papers of a shelf file were laid in."""
    stash = stash_of(arguments)
    project = context.project(arguments)
    brought = add_shelf(replace(project, shelf=Shelf()), shelf_from_json(arguments["text"])).shelf
    laid = laid_in(stash, brought, [paper.id for paper in brought.papers], lambda: token_hex(8))
    yield result({"stash": encode(laid.stash)})


def stash_of(arguments: Mapping[str, Any]) -> Shelf:
    """Return the stash that a call names. Raises Refusal where it can't be."""
    stash = decode(Shelf, arguments["stash"])
    refuse_unsound_shelf(stash)
    return stash
