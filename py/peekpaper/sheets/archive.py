"""All files as one."""

import io
import zipfile
from collections.abc import Iterable

from peekpaper.sheets.sheet_file import Purpose, SheetFile

_STORED = ("image/png", "application/pdf")
"""Media types that are compressed already."""


def packed(name: str, files: Iterable[SheetFile]) -> SheetFile:
    """Return a zip of the files in a folder of its own, called `name`; equal files give equal bytes."""
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w") as archive:
        for file in files:
            entry = zipfile.ZipInfo(f"{name}/{file.name}")
            entry.external_attr = 0o644 << 16
            entry.compress_type = zipfile.ZIP_STORED if file.media_type in _STORED else zipfile.ZIP_DEFLATED
            archive.writestr(entry, file.data, compresslevel=6)
    return SheetFile(f"{name}.zip", "application/zip", target.getvalue(), Purpose.EVERYTHING)
