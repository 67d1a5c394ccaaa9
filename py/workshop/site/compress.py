"""gzip and brotli copies beside each file, for servers that hand out what a browser accepts."""

import gzip
from collections.abc import Callable

import brotli

from workshop.places import cache
from workshop.runtime.store import sha256, write_whole

# Under this size, or where less than a twentieth is saved, a second copy is not worth its request headers.
LEAST_BYTES = 256
LEAST_GAIN = 0.05
# brotli's best takes seconds for a megabyte: worth it for the large parts, which never change; the rest is
# built anew with each change.
LARGE_BYTES = 2_000_000
BEST, QUICK = 11, 9


def compressed(data: bytes) -> dict[str, bytes]:
    """Return the copies worth having by suffix (`.gz`, `.br`); none for what does not shrink."""
    if len(data) < LEAST_BYTES:
        return {}
    quality = BEST if len(data) > LARGE_BYTES else QUICK
    copies = {
        ".gz": _kept(data, "9.gz", lambda: gzip.compress(data, compresslevel=9, mtime=0)),
        ".br": _kept(data, f"{quality}.br", lambda: brotli.compress(data, quality=quality)),
    }
    return {suffix: copy for suffix, copy in copies.items() if len(copy) < len(data) * (1 - LEAST_GAIN)}


def _kept(data: bytes, way: str, compress: Callable[[], bytes]) -> bytes:
    path = cache() / "compressed" / f"{sha256(data)}-{way}"
    if path.is_file():
        return path.read_bytes()
    copy = compress()
    write_whole(path, copy)
    return copy
