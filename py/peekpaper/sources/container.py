"""Files within a folder or a zip, for the command; the page takes them apart itself, as it needs them."""

import io
import zipfile
import zlib
from contextlib import suppress
from pathlib import Path

from peekpaper.bounds import MAX_BYTES
from peekpaper.refusal import Refusal

_MOST_ENTRIES = 10_000
_MOST_UNPACKED = 1 << 30
_NAMED_IN_UTF8 = 0x800


def files_in_folder(folder: Path) -> dict[str, bytes]:
    """Return the files in a folder and all within it, by their paths in it. Raises OSError for the disk."""
    found: dict[str, bytes] = {}
    for path in sorted(folder.rglob("*")):
        if path.is_file():
            if len(found) == _MOST_ENTRIES:
                raise Refusal("zip-too-much")
            with path.open("rb") as file:
                found[path.relative_to(folder).as_posix()] = file.read(MAX_BYTES + 1)
    return found


def files_in_zip(data: bytes) -> dict[str, bytes]:
    """Return the files in a zip by their paths.

    Raises Refusal where it is broken, locked or unpacks to too much.
    """
    found: dict[str, bytes] = {}
    spent = 0
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            entries = [entry for entry in archive.infolist() if not entry.is_dir()]
            if len(entries) > _MOST_ENTRIES or sum(entry.file_size for entry in entries) > _MOST_UNPACKED:
                raise Refusal("zip-too-much")
            for entry in entries:
                with archive.open(entry) as file:
                    content = file.read(MAX_BYTES + 1)
                spent += len(content)
                if spent > _MOST_UNPACKED:
                    raise Refusal("zip-too-much")
                found[_name_of(entry)] = content
    except Refusal:
        raise
    except RuntimeError:  # a password is wanted
        raise Refusal("zip-locked") from None
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, ValueError, OSError):
        raise Refusal("zip-broken") from None
    return found


def _name_of(entry: zipfile.ZipInfo) -> str:
    """Return an entry's path; names in UTF-8 that are not marked so are common, and so are backslashes."""
    name = entry.filename
    if not entry.flag_bits & _NAMED_IN_UTF8:
        with suppress(UnicodeError):
            name = name.encode("cp437").decode()
    return name.replace("\\", "/")
