"""The design or project that a file, a folder or a zip brings."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from peekpaper.commands.parcel import document_in, is_parcel
from peekpaper.refusal import Refusal
from peekpaper.sources.bundle import HEAD_BYTES, Given, sort_files
from peekpaper.sources.container import files_in_folder, files_in_zip

_MOST_BYTES = 64_000_000
"""Larger files are no designs; the limit keeps the memory of a batch run bounded."""


@dataclass(frozen=True, slots=True)
class Brought:
    """A design or project by its name and bytes, and the bytes of font files that came along."""

    name: str
    data: bytes
    typefaces: tuple[bytes, ...] = ()


def read_file(path: Path) -> bytes:
    """Return the bytes of a file. Raises Refusal where there is none to read."""
    try:
        if path.stat().st_size > _MOST_BYTES:
            raise Refusal("too-large-for-a-design", name=path.name)
        return path.read_bytes()
    except OSError as error:
        raise Refusal("unreadable-file", path=str(path), reason=str(error.strerror or error)) from None


def brought(path: Path) -> Brought:
    """Return the design or project at `path`.

    Of a folder or a zip that is no project this is the one design in it, from its best source. Raises Refusal
    where there is none, where there are several, and for what can't be read.
    """
    if path.is_dir():
        return _meant(files_in_folder(path))
    data = read_file(path)
    if is_parcel(data) and not _holds_project(data):
        return _meant(files_in_zip(data))
    return Brought(path.name, data)


def _holds_project(data: bytes) -> bool:
    try:
        document_in(data)
    except Refusal as refusal:
        return refusal.code != "zip-none-of-ours"
    return True


def _meant(files: Mapping[str, bytes]) -> Brought:
    paths = list(files)
    found = sort_files([Given(path, len(files[path]), files[path][:HEAD_BYTES]) for path in paths])
    if not found.designs:
        raise Refusal("bundle-nothing")
    if not found.is_plain:
        raise Refusal("bundle-several", names=tuple(design.name for design in found.designs))
    design = found.designs[0]
    best = paths[design.files[0]]
    name = f"{design.name}{PurePosixPath(best).suffix}"
    return Brought(name, files[best], tuple(files[paths[number]] for number in found.typefaces))
