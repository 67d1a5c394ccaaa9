"""Calls on what is taken away: sheets, the gluing order, a code for a link."""

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from peekpaper.desk.context import Arguments, Context, bytes_of, words_in
from peekpaper.desk.step import Step, result, step
from peekpaper.pipeline import chosen_colourway, planned
from peekpaper.project.codec import decode, encode
from peekpaper.project.page_layout import PAGE_SIZES
from peekpaper.project.project import Project
from peekpaper.refusal import Refusal
from peekpaper.sheets.choices import SheetChoices, SheetKind
from peekpaper.sheets.libraries import import_libraries
from peekpaper.sheets.picture.raster import read_raster
from peekpaper.sheets.work import Look, PrintedPattern, Work
from peekpaper.words.words import Language


def _work(
    context: Context,
    project: Project,
    words: Language,
    patterns: Mapping[str, PrintedPattern],
    looks: Mapping[str, Look],
) -> Work:
    pipeline = context.pipeline
    plan = pipeline.last_plan(project)
    if plan is None:
        raise Refusal("plan-not-ready")
    design, backing = pipeline.design(project), pipeline.backing(project)
    return Work(planned(project), design, backing, plan, context.gluing(project), words, patterns, looks)


def _patterns(
    project: Project, arguments: Arguments, buffers: Sequence[bytes]
) -> Mapping[str, PrintedPattern]:
    """Return what papers are printed from: their picture files and how wide a repeat is, by paper id."""
    names = {paper.id: paper.name for paper in project.shelf.papers}
    return {
        one["paper"]: PrintedPattern(
            read_raster(bytes_of(one, "picture", buffers), names.get(one["paper"], "")), one["width_mm"]
        )
        for one in arguments.get("patterns", ())
    }


def _looks(arguments: Arguments, buffers: Sequence[bytes]) -> Mapping[str, Look]:
    """Return what papers look like in pictures, by paper id."""
    return {
        one["paper"]: Look(
            read_raster(bytes_of(one, "picture", buffers), ""),
            np.frombuffer(bytes_of(one, "pixels", buffers), np.uint8).reshape(
                one["height_px"], one["width_px"], 4
            )[..., :3],
            one["width_mm"],
        )
        for one in arguments.get("looks", ())
    }


def sheets(context: Context, arguments: Arguments, buffers: Sequence[bytes]) -> Iterator[Step]:
    """Show how many files there will be and each one's name once it is made; answer with all of them.

    `patterns` are those of papers that are printed, each `{"paper": id, "picture":
    {"buffer": index}, "width_mm": width}`: a JPEG or PNG file of one repeat, and how wide that really is.
    `looks` are what papers with a pattern look like in pictures: the same as a coarse JPEG, with its pixels
    beside it, `"pixels": {"buffer": index}, "width_px": w, "height_px": h`, four bytes each by rows.
    """
    from peekpaper.sheets.take import file_count, take_sheets

    choices = decode(SheetChoices, arguments["choices"])
    project = context.project(arguments)
    patterns, looks = _patterns(project, arguments, buffers), _looks(arguments, buffers)
    work = _work(context, project, words_in(arguments), patterns, looks)
    total = file_count(work, choices)
    yield step("progress", {"done": 0, "total": total, "name": ""})
    files = []
    for file in take_sheets(work, choices):
        files.append(file)
        yield step("progress", {"done": len(files), "total": total, "name": file.name})
    yield result(
        {
            "files": [
                {
                    "name": file.name,
                    "type": file.media_type,
                    "purpose": file.purpose,
                    "bytes": {"buffer": index},
                }
                for index, file in enumerate(files)
            ]
        },
        tuple(file.data for file in files),
    )


def prepare_sheets(_context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Import what files of some kinds are written with, so that they come sooner when they are asked for."""
    for name in import_libraries(SheetKind(kind) for kind in arguments["kinds"]):
        yield step("progress", {"name": name})
    yield result({})


def checklist(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the pieces in gluing order, grouped by band and paper."""
    groups = context.gluing(context.project(arguments))
    yield result({"groups": [encode(group) for group in groups]})


def qr(_context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the code of a text as a path of unit squares, and its size with the quiet zone."""
    from peekpaper.sheets.pages.qr import qr_code

    code = qr_code(arguments["text"])
    runs = "".join(f"M{column} {row}h{length}v1h-{length}z" for column, row, length in code.runs())
    yield result({"path": runs, "size": code.size})


def page_picture(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the piece on its page as SVG with measures, and with the measures alone."""
    from peekpaper.sheets.picture.page_view import page_measures, page_view
    from peekpaper.sheets.picture.picture_svg import picture_svg

    project, words = context.project(arguments), words_in(arguments)
    picture = page_view(project, context.pipeline.design(project), chosen_colourway(project), words)
    yield result(
        {
            "svg": picture_svg(picture).decode(),
            "measures": [encode(measure) for measure in page_measures(project.page, project.units, words)],
        }
    )


def page_sizes(_context: Context, _arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the sizes that pages and cards come in."""
    yield result({"sizes": [encode(size) for size in PAGE_SIZES]})
