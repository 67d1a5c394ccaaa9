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


def zip_bytes(files: Mapping[str, bytes]) -> bytes:
    """Return a zip archive of the files in the order of their paths, with fixed times and modes."""
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as target:
        for path in sorted(files):
            entry = zipfile.ZipInfo(path, FIXED_TIME)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            target.writestr(entry, files[path])
    return archive.getvalue()


def unzipped(archive: bytes) -> dict[str, bytes]:
    """Return the files of a zip archive, path to content."""
    with zipfile.ZipFile(io.BytesIO(archive)) as source:
        return {path: source.read(path) for path in source.namelist() if not path.endswith("/")}
