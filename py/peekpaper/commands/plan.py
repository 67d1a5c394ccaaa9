"""The `plan` command: a design or a project to its sheets, without the page."""

import json
import os
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import Any

import shapely
from shapely import Polygon

from peekpaper.backing.backing import Mode
from peekpaper.commands.backing_json import backing_json
from peekpaper.commands.brought import brought
from peekpaper.commands.options import (
    add_backing_options,
    given,
    is_project,
    layout_of,
    length,
    project_of,
    size,
    step,
    with_mends,
    write_card,
)
from peekpaper.commands.parts_json import parts_json
from peekpaper.commands.stories import paper_named
from peekpaper.design.motifs.motif import Motif
from peekpaper.geometry.affine import Floats, moved
from peekpaper.gluing.glue_up import GlueGroup, glue_up
from peekpaper.papers.suggest import Wish, suggest
from peekpaper.pipeline import Pipeline, chosen_colourway, planned
from peekpaper.plan.booking.booking import left_of_sheets
from peekpaper.plan.booking.left_over import Rectangle
from peekpaper.plan.plan import PaperRounds, Trim, rounds_of
from peekpaper.project.codec import Json, encode
from peekpaper.project.colourways import add_colourway
from peekpaper.project.document import to_json
from peekpaper.project.link import to_link
from peekpaper.project.project import Project
from peekpaper.refusal import Refusal
from peekpaper.sheets.choices import PRINTED_KINDS, SheetChoices, SheetKind
from peekpaper.sheets.paper_sizes import PaperSize
from peekpaper.sheets.places import from_trim, size_on_mat, turn_on_mat
from peekpaper.sheets.plain_text import file_stem
from peekpaper.sheets.take import take_sheets
from peekpaper.sheets.work import Work
from peekpaper.words.words import Language, read_words

_SHARED_BAR_MM = 3.0
"""Bars that `--shared` spans where no limit is given (from memory, no published source)."""

_PAPERS = 4


def add_parser(subparsers: Any) -> None:
    """Add the command to the parser of `python -m peekpaper`."""
    parser: ArgumentParser = subparsers.add_parser("plan", help="write the sheets of a design or a project")
    add_backing_options(parser)
    parser.add_argument("--out", type=Path, required=True, metavar="DIR", help="folder for the files")
    parser.add_argument("--mode", choices=[str(mode) for mode in Mode], help="how lips are made")
    parser.add_argument("--papers", type=int, metavar="N", help=f"spread N papers ({_PAPERS})")
    parser.add_argument(
        "--only",
        action="append",
        default=[],
        metavar="NAME",
        help="spread this paper and others so named alone",
    )
    parser.add_argument(
        "--ramp", action="store_true", help="spread papers in their order from the middle outwards"
    )
    parser.add_argument("--by-motif", action="store_true", help="spread papers of its own over each motif")
    parser.add_argument("--glue-by-motif", action="store_true", help="glue one motif after another")
    parser.add_argument(
        "--shared",
        type=length,
        nargs="?",
        const=_SHARED_BAR_MM,
        metavar="LENGTH",
        help="share a piece across bars narrower than this (3mm)",
    )
    parser.add_argument("--trim-step", type=step, default=..., metavar="LENGTH", help="0.5in, 10mm or free")
    parser.add_argument("--mat", type=size, metavar="SIZE", help="size of the mat, such as 12x12in")
    parser.add_argument("--spacing", type=length, metavar="LENGTH", help="between pieces (1.5mm)")
    parser.add_argument("--margin", type=length, metavar="LENGTH", help="at the edge of a trim (3mm)")
    parser.add_argument("--seconds", type=float, default=10.0, help="how long to look for a better plan (10)")
    parser.add_argument(
        "--rounds", type=int, metavar="N", help="stop after N rounds for each paper, whatever the clock says"
    )
    parser.add_argument("--units", choices=["in", "mm"], help="unit of the files")
    parser.add_argument(
        "--print-on",
        choices=[str(paper) for paper in PaperSize],
        default=str(PaperSize.LETTER),
        help="the printer's paper (Letter)",
    )
    parser.add_argument("--per-paper", action="store_true", help="add a cut file for each paper of a mat")
    parser.add_argument("--mirrored", action="store_true", help="for papers that lie face down on the mat")
    parser.add_argument("--guides", action="store_true", help="add trim outlines and numbers to cut files")
    parser.add_argument(
        "--size-check", action="store_true", help="add a square of known size where there is room"
    )
    parser.add_argument(
        "--address",
        metavar="URL",
        help="where the page is: adds a link, and its code to the guide",
    )
    parser.set_defaults(run=run)


def run(arguments: Namespace) -> None:
    """Write all files and print their names. Raises Refusal for what can't be done, OSError for the disk."""
    file, words = brought(arguments.file), read_words(arguments.language)
    pipeline = Pipeline()
    asked = _with_plan_options(project_of(file, arguments), arguments)
    project = with_mends(asked, pipeline, arguments)
    design = pipeline.design(project)
    wants_papers = arguments.papers is not None or arguments.only or arguments.ramp or arguments.by_motif
    if wants_papers or not is_project(file.data):
        project = _spread(project, pipeline, _wish(project, arguments))
    pipeline.take_kept(project, layout_of(file))
    plan = None
    for plan in pipeline.plans(project, arguments.seconds):  # noqa: B007 - the last one is the best
        pass
    if plan is None:
        raise Refusal("nothing-to-plan")
    backing = pipeline.backing(project)
    work = Work(planned(project), design, backing, plan, _glued(project, pipeline), words)
    arguments.out.mkdir(parents=True, exist_ok=True)
    _write(
        arguments.out / "plan.json",
        json.dumps(plan_json(work, words, pipeline.motifs(project)), indent=1, allow_nan=False).encode(),
    )
    stem = file_stem(project.name) or "design"
    _write(arguments.out / f"{stem} project.json", to_json(project, _layout(project, pipeline)).encode())
    choices = _sheet_choices(project, arguments, words)
    if choices.link is not None:
        _write(arguments.out / f"{stem} link.txt", f"{choices.link}\n".encode())
    write_card(project, pipeline, arguments)
    for sheet in take_sheets(work, choices):
        _write(arguments.out / sheet.name, sheet.data)
        print(sheet.name)


def _layout(project: Project, pipeline: Pipeline) -> Json:
    kept = pipeline.kept_plan(project)
    return None if kept is None else encode(kept)


def _glued(project: Project, pipeline: Pipeline) -> tuple[GlueGroup, ...]:
    design, backing = pipeline.design(project), pipeline.backing(project)
    return glue_up(project, design, backing, pipeline.glued_motifs(project))


def _with_plan_options(project: Project, arguments: Namespace) -> Project:
    endless = not 0 < arguments.seconds < float("inf")
    if endless or (arguments.rounds is not None and arguments.rounds <= 0):
        raise Refusal("no-time-to-plan")
    mode = Mode(arguments.mode) if arguments.mode else None
    backing = given({"mode": mode, "shared_bar_mm": arguments.shared})
    plan = given({"spacing_mm": arguments.spacing, "margin_mm": arguments.margin})
    if arguments.rounds is not None:
        papers = project.shelf.papers
        plan["rounds"] = tuple(PaperRounds(paper.id, arguments.rounds) for paper in papers)
    if arguments.trim_step is not ...:
        plan["trim_step_mm"] = arguments.trim_step
    if arguments.mat is not None:
        width, height = arguments.mat
        plan |= {"mat_width_mm": width, "mat_height_mm": height}
    return replace(
        project,
        backing=replace(project.backing, **backing),
        plan=replace(project.plan, **plan),
        units=arguments.units or project.units,
        glue_by_motif=arguments.glue_by_motif or project.glue_by_motif,
    )


def _wish(project: Project, arguments: Namespace) -> Wish:
    """Return what papers to spread, and how. Raises Refusal for names that no paper has."""
    among = tuple(paper_named(project.shelf.papers, name).id for name in arguments.only)
    count = arguments.papers if arguments.papers is not None else len(among) or _PAPERS
    most = len(project.shelf.papers)
    if not 1 <= count <= most:
        raise Refusal("papers-to-spread", most=most)
    return Wish(count, project.plan.seed, among, arguments.ramp, arguments.by_motif)


def _spread(project: Project, pipeline: Pipeline, wish: Wish) -> Project:
    """Return the project with papers spread as wished in its chosen colourway, around what is locked."""
    if not project.colourways:
        project = add_colourway(project, "Spread")
    chosen = chosen_colourway(project)
    design, motifs = pipeline.as_it_looks(project), pipeline.motifs(project)
    spread = replace(chosen, papers=dict(suggest(design, project.shelf, chosen, wish, motifs).papers))
    colourways = tuple(spread if one.id == chosen.id else one for one in project.colourways)
    return replace(project, colourways=colourways, colourway=chosen.id)


def _sheet_choices(project: Project, arguments: Namespace, words: Language) -> SheetChoices:
    return SheetChoices(
        # Pictures of papers stay on the device where they were brought in.
        kinds=tuple(kind for kind in SheetKind if kind not in PRINTED_KINDS),
        unit=project.units,
        per_paper=arguments.per_paper,
        mirrored=arguments.mirrored,
        guides=arguments.guides,
        size_check=arguments.size_check,
        paper_size=PaperSize(arguments.print_on),
        link=_link(project, arguments.address, words) if arguments.address else None,
    )


def _link(project: Project, address: str, words: Language) -> str | None:
    """Return the project's link; where it is too large for one, say so and return None."""
    try:
        return f"{address}#p={to_link(project)}"
    except Refusal as refusal:
        print(words.say(refusal.message), file=sys.stderr)
        return None


def plan_json(work: Work, words: Language, motifs: Sequence[Motif] = ()) -> dict[str, Any]:
    """Return the plan as the value of plan.json: trims as they lie on their mats, pieces in mat mm.

    A piece goes with the motif of its first opening, by its number among `motifs`; None where it has none.
    """
    motif_of = {number: place for place, motif in enumerate(motifs, 1) for number in motif.openings}
    return {
        "mends": encode(work.project.mends),
        "pieces": [
            {
                "id": piece.number,
                "openings": list(piece.openings),
                "paper": piece.paper,
                "wkt": piece.outline.wkt,
                "lip_min_mm": piece.lip_min_mm,
                "motif": motif_of.get(piece.openings[0]),
            }
            for piece in work.backing.pieces
        ],
        "motifs": encode(tuple(motifs)),
        "trims": [_trim_json(trim) for trim in work.plan.trims],
        "mats": [
            {"number": mat.number, "width_mm": mat.width_mm, "height_mm": mat.height_mm}
            for mat in work.plan.mats
        ],
        "parts": parts_json(work.design),
        "backing": backing_json(work.backing, words),
        "cut_length_mm": work.plan.cut_length_mm,
        "warnings": _warnings(work, words),
        "sheets": dict(work.plan.sheets),
        "left_over": [
            _left_over_json(paper.id, number, rectangle)
            for paper in work.project.shelf.papers
            for number, rectangle in left_of_sheets(paper, work.plan, work.project.plan.least_scrap_mm)
        ],
        "paper_area_mm2": dict(work.plan.paper_area_mm2),
        "seconds": work.plan.seconds,
        "rounds": sum(rounds_of(work.plan.rounds).values()),
        "rounds_of_papers": rounds_of(work.plan.rounds),
    }


def _left_over_json(paper: str, sheet: int, rectangle: Rectangle) -> dict[str, Any]:
    left, top, right, bottom = rectangle
    size = {"width_mm": right - left, "height_mm": bottom - top}
    return {"paper": paper, "sheet": sheet, "x_mm": left, "y_mm": top, **size}


def _trim_json(trim: Trim) -> dict[str, Any]:
    width, height = size_on_mat(trim)
    matrix = from_trim(trim)
    return {
        "id": trim.id,
        "paper": trim.paper,
        "width_mm": width,
        "height_mm": height,
        "mat": trim.mat,
        "x_mm": trim.x_mm,
        "y_mm": trim.y_mm,
        "turned": trim.turned,
        "scrap": trim.scrap,
        "outline": None if trim.outline is None else _on_mat(trim.outline, matrix).wkt,
        "sheet": trim.source.sheet if trim.source else None,
        "printed": trim.printed_at is not None,
        "pieces": [
            {
                "id": placed.number,
                "wkt": _on_mat(placed.outline, matrix).wkt,
                "turn_deg": turn_on_mat(trim, placed),
            }
            for placed in trim.pieces
        ],
    }


def _on_mat(outline: Polygon, matrix: Floats) -> Polygon:
    return shapely.transform(outline, lambda points: moved(points, matrix))


def _warnings(work: Work, words: Language) -> list[dict[str, Any]]:
    placed = [
        {"code": warning.code, "message": words.say(warning.message), "at": [warning.at.x, warning.at.y]}
        for warning in (*work.design.warnings, *work.backing.warnings)
    ]
    return placed + [{"code": "plan", "message": words.say(said), "at": None} for said in work.plan.warnings]


def _write(path: Path, data: bytes) -> None:
    """Write a file whole or not at all, so that a break leaves no half of one."""
    part = path.with_name(f"{path.name}.part")
    try:
        part.write_bytes(data)
        os.replace(part, path)
    except OSError as error:
        with suppress(OSError):
            part.unlink()
        raise OSError(error.errno, error.strerror, str(path)) from None
