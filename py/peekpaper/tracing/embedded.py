"""Pictures that a file of a drawing holds whole, in their `data:` addresses (RFC 2397)."""

import base64
import binascii

from peekpaper.tracing.picture_file import is_picture

_TAG, _ADDRESS, _CODED = "<image", "data:image/", ";base64,"
_SPACE = str.maketrans("", "", " \t\r\n")


def largest_picture(svg: str) -> bytes | None:
    """Return the file of the largest picture in the text of an SVG file, None where it holds none."""
    largest: bytes | None = None
    at = svg.find(_TAG)
    while at >= 0:
        end = svg.find(">", at)
        if end < 0:
            break
        found = _in_tag(svg[at:end])
        if found is not None and (largest is None or len(found) > len(largest)):
            largest = found
        at = svg.find(_TAG, end)
    return largest


def _in_tag(tag: str) -> bytes | None:
    start = tag.find(_ADDRESS)
    coded = tag.find(_CODED, start)
    if start < 0 or coded < 0:
        return None
    quote = tag[start - 1]
    text = tag[coded + len(_CODED) :].partition(quote)[0].translate(_SPACE)
    try:
        data = base64.b64decode(text + "=" * (-len(text) % 4), validate=True)
    except (binascii.Error, ValueError):
        return None
    return data if is_picture(data) else None
