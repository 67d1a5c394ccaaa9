"""Writing wheels whose bytes are the same at every run.

Source: the binary distribution format of the Python packaging specifications (PEP 427).
"""

import base64
import csv
import hashlib
import io
import zipfile
from collections.abc import Mapping

# The earliest time that a zip entry can tell is 1980; any fixed one will do.
FIXED_TIME = (2020, 1, 1, 0, 0, 0)


def wheel_bytes(name: str, version: str, tag: str, files: Mapping[str, bytes]) -> bytes:
    """Return a wheel of the files (path to content), with WHEEL and RECORD written for them.

    `files` holds the package's own METADATA. `name` is in the form that file names use.
    """
    info = f"{name}-{version}.dist-info"
    pure = "true" if tag.endswith("-none-any") else "false"
    content = dict(files)
    content[f"{info}/WHEEL"] = (
        f"Wheel-Version: 1.0\nGenerator: peekpaper\nRoot-Is-Purelib: {pure}\nTag: {tag}\n".encode()
    )
    record = io.StringIO()
    rows = csv.writer(record, lineterminator="\n")
    for path in sorted(content):
        digest = base64.urlsafe_b64encode(hashlib.sha256(content[path]).digest()).rstrip(b"=").decode()
        rows.writerow([path, f"sha256={digest}", len(content[path])])
    rows.writerow([f"{info}/RECORD", "", ""])
    content[f"{info}/RECORD"] = record.getvalue().encode()
    return zip_bytes(content)


def repacked(file: str, files: Mapping[str, bytes]) -> bytes:
    """Return the wheel of that file name with other content; WHEEL and RECORD are written anew."""
    name, version, tag = file.removesuffix(".whl").split("-", 2)
    return wheel_bytes(
        name, version, tag, {path: data for path, data in files.items() if not _is_record(path)}
    )


def _is_record(path: str) -> bool:
    return path.endswith((".dist-info/RECORD", ".dist-info/WHEEL"))


def zip_bytes(files: Mapping[str, bytes]) -> bytes:
    """Return a zip archive of the files in the order of their paths, with fixed times and modes.

    The files are stored as they are: what sends the archive compresses it as a whole, which saves a fifth
    more than compressing file by file, and the browser's Python has nothing to inflate.
    """
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_STORED) as target:
        for path in sorted(files):
            entry = zipfile.ZipInfo(path, FIXED_TIME)
            entry.external_attr = 0o644 << 16
            target.writestr(entry, files[path])
    return archive.getvalue()


def unzipped(archive: bytes) -> dict[str, bytes]:
    """Return the files of a zip archive, path to content."""
    with zipfile.ZipFile(io.BytesIO(archive)) as source:
        return {path: source.read(path) for path in source.namelist() if not path.endswith("/")}
