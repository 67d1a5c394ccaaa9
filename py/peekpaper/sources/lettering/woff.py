"""Typeface files packed for web pages, unpacked to what they were made of (WOFF File Format 1.0)."""

import struct
import zlib

from peekpaper.refusal import Refusal

SIGNATURE = b"wOFF"
_HEADER = struct.Struct(">4s4sIHHIHHIIIII")
_PACKED_ENTRY = struct.Struct(">4sIIII")
_ENTRY = struct.Struct(">4sIII")


def unpacked(data: bytes, most_bytes: int) -> bytes:
    """Return the TrueType or OpenType file in a WOFF file.

    Raises Refusal where it is broken, or unpacks to more than `most_bytes`.
    """
    try:
        _, flavour, _, count, _, _, *_ = _HEADER.unpack_from(data)
        entries = [_PACKED_ENTRY.unpack_from(data, _HEADER.size + 20 * index) for index in range(count)]
        if sum(length for _, _, _, length, _ in entries) > most_bytes:
            raise Refusal("typeface-too-large", megabytes=most_bytes >> 20)
        tables = [_table(data[offset : offset + packed], length) for _, offset, packed, length, _ in entries]
    except (struct.error, zlib.error):
        raise Refusal("typeface-broken") from None
    return _file(flavour, [(tag, checksum) for tag, *_, checksum in entries], tables)


def _table(packed: bytes, length: int) -> bytes:
    table = packed if len(packed) == length else zlib.decompressobj().decompress(packed, length or 1)
    if len(table) != length:
        raise Refusal("typeface-broken")
    return table


def _file(flavour: bytes, heads: list[tuple[bytes, int]], tables: list[bytes]) -> bytes:
    """Return tables behind their directory (OpenType 1.9, chapter "The OpenType Font File")."""
    count = len(tables)
    power = max(count, 1).bit_length() - 1
    search = 16 << power
    rest = (16 * count - search) & 0xFFFF
    directory = [struct.pack(">4sHHHH", flavour, count, search & 0xFFFF, power, rest)]
    body = []
    at = 12 + _ENTRY.size * count
    for (tag, checksum), table in zip(heads, tables, strict=True):
        directory.append(_ENTRY.pack(tag, checksum, at, len(table)))
        padded = table + bytes(-len(table) % 4)
        body.append(padded)
        at += len(padded)
    return b"".join((*directory, *body))
