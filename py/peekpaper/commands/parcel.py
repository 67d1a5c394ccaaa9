"""A project file that its pictures go with: a zip with the document in it, as the page writes it.

Beside `project.json` it has the pictures of papers, which nothing in this package looks at. It may have been
unpacked and packed again, in a folder of its own.
"""

import io
import zipfile
import zlib
from pathlib import PurePosixPath

from peekpaper.refusal import Refusal

_MOST_ENTRIES = 10_000
_MOST_DOCUMENT = 64_000_000
"""Bytes; no document that this package opens is larger."""
_DOCUMENT = "project.json"


def is_parcel(data: bytes) -> bool:
    """Tell whether a file begins as a zip does."""
    return data.startswith((b"PK\x03\x04", b"PK\x05\x06"))


def document_in(data: bytes) -> bytes:
    """Return the project document in a zip.

    Raises Refusal where the zip is broken, locked or holds no project, and where it unpacks to too much.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as parcel:
            entry = _entry_of_document(parcel)
            with parcel.open(entry) as document:
                unpacked = document.read(_MOST_DOCUMENT + 1)
    except Refusal:
        raise
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, ValueError, OSError):
        raise Refusal("zip-broken") from None
    except RuntimeError:  # a password is wanted
        raise Refusal("zip-locked") from None
    if len(unpacked) > _MOST_DOCUMENT:
        raise Refusal("zip-too-much")
    return unpacked


def _entry_of_document(parcel: zipfile.ZipFile) -> zipfile.ZipInfo:
    """Return the entry of the document that lies least deep in folders."""
    entries = parcel.infolist()
    if len(entries) > _MOST_ENTRIES:
        raise Refusal("zip-too-much")
    found = [entry for entry in entries if PurePosixPath(entry.filename).name == _DOCUMENT]
    if not found:
        raise Refusal("zip-none-of-ours")
    return min(found, key=lambda entry: entry.filename.count("/"))
