"""gzip and brotli copies beside each file, for servers that hand out what a browser accepts."""

import gzip
from pathlib import Path

import brotli

from workshop.places import cache
from workshop.runtime.store import sha256, write_whole

# Under this size, or where less than a twentieth is saved, a second copy is not worth its request headers.
LEAST_BYTES = 256
LEAST_GAIN = 0.05
# The level from which brotli takes seconds for a megabyte; the cache keeps what it made.
BROTLI_QUALITY = 11


def compressed(data: bytes) -> dict[str, bytes]:
    """Return the copies worth having by suffix (`.gz`, `.br`); none for what does not shrink."""
    if len(data) < LEAST_BYTES:
        return {}
    copies = {".gz": _kept(data, ".gz"), ".br": _kept(data, ".br")}
    return {suffix: copy for suffix, copy in copies.items() if len(copy) < len(data) * (1 - LEAST_GAIN)}


def _kept(data: bytes, suffix: str) -> bytes:
    path: Path = cache() / "compressed" / f"{sha256(data)}{suffix}"
    if path.is_file():
        return path.read_bytes()
    if suffix == ".gz":
        copy = gzip.compress(data, compresslevel=9, mtime=0)
    else:
        copy = brotli.compress(data, quality=BROTLI_QUALITY)
    write_whole(path, copy)
    return copy
