"""The built site as one zip, to unpack in any folder of any static host."""

import zipfile
from pathlib import Path

_DATE = (1980, 1, 1, 0, 0, 0)
"""The earliest that a zip can tell: the same site gives the same bytes."""
_PACKED = {".br", ".gz", ".png", ".zip"}
_FILE_MODE = 0o644


def pack_folder(site: Path, archive: Path) -> Path:
    """Write the files of a built site as a zip, and return its path."""
    with zipfile.ZipFile(archive, "w") as packed:
        for path in sorted(path for path in site.rglob("*") if path.is_file()):
            entry = zipfile.ZipInfo(path.relative_to(site).as_posix(), _DATE)
            entry.external_attr = _FILE_MODE << 16
            stored = path.suffix in _PACKED
            entry.compress_type = zipfile.ZIP_STORED if stored else zipfile.ZIP_DEFLATED
            packed.writestr(entry, path.read_bytes())
    return archive
