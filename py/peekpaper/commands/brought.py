"""The design or project that a file, a folder or a zip brings."""

from collections.abc import Mapping
from pathlib import Path, PurePosixPath

from peekpaper.commands.options import read_file
from peekpaper.commands.parcel import document_in, is_parcel
from peekpaper.refusal import Refusal
from peekpaper.sources.bundle import HEAD_BYTES, Given, sort_files
from peekpaper.sources.container import files_in_folder, files_in_zip


def brought(path: Path) -> tuple[str, bytes]:
    """Return the name and the bytes of the design or project at `path`.

    Of a folder or a zip that is no project this is the one design in it, from its best source. Raises Refusal
    where there is none, where there are several, and for what can't be read.
    """
    if path.is_dir():
        return _meant(files_in_folder(path))
    data = read_file(path)
    if is_parcel(data) and not _holds_project(data):
        return _meant(files_in_zip(data))
    return path.name, data


def _holds_project(data: bytes) -> bool:
    try:
        document_in(data)
    except Refusal as refusal:
        return refusal.code != "zip-none-of-ours"
    return True


def _meant(files: Mapping[str, bytes]) -> tuple[str, bytes]:
    paths = list(files)
    found = sort_files([Given(path, len(files[path]), files[path][:HEAD_BYTES]) for path in paths])
    if not found.designs:
        raise Refusal("bundle-nothing")
    if not found.is_plain:
        raise Refusal("bundle-several", names=tuple(design.name for design in found.designs))
    design = found.designs[0]
    best = paths[design.files[0]]
    return f"{design.name}{PurePosixPath(best).suffix}", files[best]
