"""Projects as hypothesis makes them: every field of every part filled with what it may hold."""

import dataclasses
import types
from collections.abc import Mapping
from enum import StrEnum
from typing import Annotated, Any, Union, get_args, get_origin, get_type_hints

from hypothesis import strategies as st

from peekpaper.bounds import Count, Letters, Within
from peekpaper.papers.paper import Colourway, Paper, Scrap, Shelf
from peekpaper.plan.plan import CutSpeed
from peekpaper.project.project import Block, Look, PageLayout, Project

numbers = st.floats(allow_nan=False, allow_infinity=False)
lengths = st.floats(min_value=0.001, max_value=1e5)
texts = st.text(max_size=12)
colours = st.from_regex(r"#[0-9a-f]{6}", fullmatch=True)
counts = st.integers(min_value=0, max_value=10_000)


def _some(kind: Any) -> st.SearchStrategy[Any]:
    """Whatever a type hint allows."""
    origin, parts = get_origin(kind), get_args(kind)
    if origin is Annotated:
        return _bounded(*parts)
    if origin in (Union, types.UnionType):
        return st.one_of(*(_some(part) for part in parts))
    if origin is tuple and parts[-1] is Ellipsis:
        return st.lists(_some(parts[0]), max_size=4).map(tuple)
    if origin is tuple:
        return st.tuples(*(_some(part) for part in parts))
    if origin is Mapping:
        return st.dictionaries(_some(parts[0]), _some(parts[1]), max_size=4)
    if dataclasses.is_dataclass(kind):
        return some(kind)
    if issubclass(kind, StrEnum):
        return st.sampled_from(kind)
    return {
        type(None): st.none(),
        bool: st.booleans(),
        int: st.integers(-(2**53), 2**53),
        float: numbers,
        str: texts,
    }[kind]


def _bounded(kind: Any, bound: Within | Count | Letters) -> st.SearchStrategy[Any]:
    """Whatever a type hint with bounds allows."""
    if isinstance(bound, Within):
        return (st.integers if kind is int else st.floats)(bound.least, bound.most)
    if isinstance(bound, Letters):
        return texts
    if get_origin(kind) is Mapping:
        return _some(kind)
    return st.lists(_some(get_args(kind)[0]), min_size=bound.least, max_size=bound.least + 3).map(tuple)


def some(kind: Any, **fields: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    """Dataclasses of a kind; the fields not given hold whatever their type hint allows."""
    hints = get_type_hints(kind, include_extras=True)
    names = [field.name for field in dataclasses.fields(kind)]
    return st.builds(kind, **{name: fields[name] if name in fields else _some(hints[name]) for name in names})


def papers(ids: st.SearchStrategy[str] = texts) -> st.SearchStrategy[Paper]:
    return some(
        Paper,
        id=ids,
        colour=colours,
        picture_width_mm=st.none() | lengths,
        sheet_width_mm=lengths,
        sheet_height_mm=lengths,
        sheets=st.none() | counts,
        price=st.none() | st.floats(0, 1e4),
        print_margin_mm=st.sampled_from([None, None, 0.0, 6.35]),
    ).filter(lambda paper: min(paper.room_mm) > 0)


@st.composite
def shelves(draw: st.DrawFn) -> Shelf:
    ids = draw(st.lists(texts, unique=True, min_size=1, max_size=6))
    scraps = draw(st.lists(texts, unique=True, max_size=3))
    return Shelf(
        papers=tuple(draw(papers(st.just(id_))) for id_ in ids),
        scraps=tuple(Scrap(id_, draw(st.sampled_from(ids)), draw(lengths), draw(lengths)) for id_ in scraps),
    )


@st.composite
def projects(draw: st.DrawFn) -> Project:
    shelf = draw(shelves())
    ids = st.sampled_from([paper.id for paper in shelf.papers])
    colourways = draw(
        st.lists(
            some(Colourway, papers=st.dictionaries(st.integers(1, 300), ids, max_size=40)),
            max_size=3,
            unique_by=lambda colourway: colourway.id,
        )
    )
    block = some(Block, width_mm=lengths, height_mm=lengths, mat_mm=st.floats(0, 100))
    page = some(
        PageLayout, width_mm=lengths, height_mm=lengths, blocks=st.lists(block, max_size=3).map(tuple)
    )
    return draw(
        some(
            Project,
            shelf=st.just(shelf),
            colourways=st.just(tuple(colourways)),
            page=page,
            look=some(Look, card_colour=colours, behind_colour=colours),
            speed=some(CutSpeed, mm_per_second=lengths, seconds_per_piece=st.floats(0, 1e4)),
            units=st.sampled_from(["in", "mm"]),
        )
    )
