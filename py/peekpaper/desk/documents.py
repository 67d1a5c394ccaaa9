"""Calls on whole documents: designs and projects brought in, saved and sent, and shelves."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from peekpaper.demo.harbour import demo_project
from peekpaper.design.design import Design
from peekpaper.desk.context import Arguments, Context, bytes_of, words_in
from peekpaper.desk.given_papers import with_given_papers
from peekpaper.desk.lettering import lettered, parts_for
from peekpaper.desk.step import Step, needs, result
from peekpaper.desk.views import design_view
from peekpaper.lengths import parse_length
from peekpaper.plan.kept import coarse
from peekpaper.project import link as links
from peekpaper.project.codec import encode
from peekpaper.project.document import new_project, read_saved, to_document, to_json
from peekpaper.project.project import Project
from peekpaper.project.shelf_file import is_shelf_file, shelf_to_json
from peekpaper.refusal import Refusal
from peekpaper.sheets.plain_text import file_stem
from peekpaper.sources import bundle
from peekpaper.sources.bundle import Given
from peekpaper.sources.read import count_pages, kind_of, read_source


def _opened(project: Project, kind: str, seen: Design | None = None, kept: object = None) -> Step:
    design = None if seen is None else design_view(seen)
    return result({"project": to_document(project), "kind": kind, "design": design, "kept": kept})


def _sized(context: Context, project: Project) -> Project:
    """Return the project with its design's size where that was guessed, so that nobody need guess it anew."""
    try:
        design = context.pipeline.design_preview(project) or context.pipeline.design(project)
    except Refusal:
        return project
    if not design.size_is_a_guess:
        return project
    return replace(project, reading=replace(project.reading, width_mm=design.width_mm))


def demo(_context: Context, _arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the demo, backed and papered."""
    yield _opened(demo_project(), "project")


def open_file(context: Context, arguments: Arguments, buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the project in a project file, or a new one for a design file, or that it is a shelf file.

    With a design file, and typefaces for words in it, comes what is seen of its design. A file of several
    pages is answered with their count, where the call does not say which one is meant.

    A design is read before the answer, so that a file that is none is refused while another is still open;
    the colours that it puts in its openings become papers given to them.
    """
    data = bytes_of(arguments, "file", buffers)
    if data.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"{"):
        text = data.decode("utf-8-sig", errors="replace")
        if is_shelf_file(text):
            yield result({"project": None, "kind": "shelf"})
        else:
            saved = read_saved(text)
            yield _opened(saved.project, "project", kept=saved.layout)
        return
    words = words_in(arguments)
    kind = kind_of(data)
    if kind.part is not None:
        yield needs(kind.part)
    page = arguments.get("page")
    if page is None and (count := count_pages(data)) > 1:
        yield result({"project": None, "kind": "pages", "design": None, "count": count})
        return
    yield from parts_for(arguments)
    svg = lettered(read_source(data, page or 1), arguments, buffers)
    project = new_project(str(arguments["name"]), svg, words)
    seen = context.pipeline.design_preview(project) or context.pipeline.design(project)
    yield _opened(with_given_papers(project, seen, words), "design", seen)


def sort_files(_context: Context, arguments: Arguments, buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with what files that came together are, told by their paths, sizes and beginnings."""
    given = [
        Given(str(one["path"]), int(one["size"]), bytes_of(one, "head", buffers))
        for one in arguments["files"]
    ]
    found = bundle.sort_files(given)
    told = {
        "designs": [{"name": one.name, "files": list(one.files)} for one in found.designs],
        "is_plain": found.is_plain,
        "papers": list(found.papers),
        "typefaces": list(found.typefaces),
        "unused": [{"file": number, "why": why.told()} for number, why in found.unused],
    }
    yield result(told)


def keep_source(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Keep a design file's text, so that projects of later calls need only name it."""
    context.keep_source(arguments["key"], arguments["svg"])
    yield result({})


def save(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the project file; what was `kept` of its plan goes along where it still holds."""
    project = context.project(arguments)
    sized = _sized(context, project)
    plan = context.pipeline.kept_as_sent(arguments.get("kept"), project, sized)
    text = to_json(sized, None if plan is None else encode(plan))
    yield result({"name": f"{file_stem(project.name) or 'design'} project.json", "text": text})


def link(context: Context, arguments: Arguments, buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the fragment of a link that holds the whole project, small pictures by key, and its plan.

    The plan goes along where it is known, `with_plan` is true, and the link stays short enough.
    """
    pictures = {key: bytes(buffers[place["buffer"]]) for key, place in arguments.get("pictures", {}).items()}
    project = context.project(arguments)
    sized = _sized(context, project)
    plan = context.pipeline.kept_plan(project, sized) if arguments.get("with_plan") else None
    sent = None if plan is None else encode(coarse(plan))
    yield result({"fragment": links.to_link(sized, pictures, sent)})


def open_link(_context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with what a link's fragment holds: the project, small pictures, and what is kept of its plan."""
    linked = links.open_link(arguments["fragment"])
    pictures = {key: {"buffer": index} for index, key in enumerate(linked.pictures)}
    told = {"project": to_document(linked.project), "pictures": pictures, "kept": linked.plan}
    yield result(told, tuple(linked.pictures.values()))


def save_shelf(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the shelf as a file."""
    yield result({"name": "paper shelf.json", "text": shelf_to_json(context.project(arguments).shelf)})


def read_length(_context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the length that a person typed."""
    yield result({"mm": parse_length(arguments["text"], arguments["unit"])})
