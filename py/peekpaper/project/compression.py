"""Bytes made small with what the standard library has, and back within bounds.

Deflate with a preset dictionary is shortest for what resembles the dictionary, bzip2 for long rows of
figures such as paths; the first byte tells which was taken.
"""

import bz2
import zlib

_DEFLATE, _BZIP2 = b"d", b"b"
_RAW_WINDOW = -zlib.MAX_WBITS
_MEMORY_LEVEL = 9


class DecompressionError(ValueError):
    """Compressed bytes that are broken, or that hold more than allowed."""


def compress(data: bytes, dictionary: bytes) -> bytes:
    """Return `data` compressed in the shorter way; `dictionary` must be given again to decompress it."""
    squeeze = zlib.compressobj(
        9, zlib.DEFLATED, _RAW_WINDOW, _MEMORY_LEVEL, zlib.Z_DEFAULT_STRATEGY, dictionary
    )
    deflated = _DEFLATE + squeeze.compress(data) + squeeze.flush()
    return min(deflated, _BZIP2 + bz2.compress(data), key=len)


def decompress(compressed: bytes, dictionary: bytes, most: int) -> bytes:
    """Return what was compressed. Raises DecompressionError where it is broken or has over `most` bytes."""
    stretch: zlib._Decompress | bz2.BZ2Decompressor
    match compressed[:1]:
        case b"d":
            stretch = zlib.decompressobj(_RAW_WINDOW, dictionary)
        case b"b":
            stretch = bz2.BZ2Decompressor()
        case _:
            raise DecompressionError("compressed in an unknown way")
    try:
        data = stretch.decompress(compressed[1:], most)
    except (zlib.error, OSError, ValueError) as error:
        raise DecompressionError(str(error)) from None
    if not stretch.eof or stretch.unused_data:
        raise DecompressionError("cut off, or longer than allowed")
    return data
