"""What a person brings, as the text of an SVG file, or a word on what it is instead."""

import codecs
import re
import zlib

from peekpaper.bounds import MAX_BYTES
from peekpaper.message import message
from peekpaper.refusal import Refusal

_OTHER_KINDS = (
    (b"\x89PNG", "png"),
    (b"\xff\xd8\xff", "jpeg"),
    (b"GIF8", "gif"),
    (b"BM", "bmp"),
    (b"II*\0", "tiff"),
    (b"MM\0*", "tiff"),
    (b"\0\0\1\0", "icon"),
    (b"%PDF", "pdf"),
    (b"%!PS", "postscript"),
    (b"\xc5\xd0\xd3\xc6", "postscript"),
    (b"PK\3\4", "zip"),
    (b"Rar!", "rar"),
    (b"7z\xbc\xaf", "7z"),
    (b"{\\rtf", "text"),
    (b"\xd0\xcf\x11\xe0", "office"),
)
_BOMS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF32_LE, "utf-32-le"),
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
_DECLARED = re.compile(rb"<\?xml[^>]*?encoding\s*=\s*[\"']([A-Za-z0-9._-]+)[\"']")
_XML_DECLARATION = re.compile(r"\s*<\?xml[^>]*\?>")


def decode_svg(data: bytes) -> str:
    """Return the text of an SVG file, unpacked and decoded, without its XML declaration.

    Raises Refusal for empty files, for files of another kind and for files over MAX_BYTES.
    """
    data = _unpacked(data)
    if not data.strip(b"\0 \t\r\n"):
        raise Refusal("empty-file")
    if len(data) > MAX_BYTES:
        raise Refusal("file-too-large", megabytes=MAX_BYTES >> 20)
    for magic, kind in _OTHER_KINDS:
        if data.startswith(magic):
            raise Refusal(_refused(kind), kind=message(f"file-kind.{kind}"))
    text = _decoded(data)
    declaration = _XML_DECLARATION.match(text)
    text = text[declaration.end() if declaration else 0 :].lstrip()
    _refuse_other_text(text)
    return text


def _refused(kind: str) -> str:
    """Return the code of the refusal that says what to do with a file of this kind."""
    if kind in {"zip", "rar", "7z"}:
        return "packed-file"
    return "picture-file" if kind in {"png", "jpeg", "gif", "bmp", "tiff", "icon"} else "other-file"


def _unpacked(data: bytes) -> bytes:
    if not data.startswith(b"\x1f\x8b"):
        return data
    unpacker = zlib.decompressobj(wbits=31)
    try:
        unpacked = unpacker.decompress(data, MAX_BYTES + 1)
    except zlib.error:
        raise Refusal("damaged-archive") from None
    if not unpacked and not unpacker.eof:
        raise Refusal("damaged-archive")
    return unpacked


def _decoded(data: bytes) -> str:
    for bom, encoding in _BOMS:
        if data.startswith(bom):
            return data[len(bom) :].decode(encoding, errors="replace")
    if data[:2] in (b"<\0", b"\0<"):
        return data.decode("utf-16-le" if data[0] else "utf-16-be", errors="replace")
    declared = _DECLARED.match(data.lstrip()[:200])
    name = declared[1].decode("ascii").lower() if declared else "utf-8"
    # What can be found in single bytes is no UTF-16 or UTF-32, whatever it says.
    for encoding in ("utf-8" if name.startswith(("utf-16", "utf-32", "ucs-", "utf16")) else name, "utf-8"):
        try:
            return data.decode(encoding)
        except (LookupError, UnicodeDecodeError):
            continue
    return data.decode("latin-1")


def _refuse_other_text(text: str) -> None:
    start = text[:2000].lower()
    if start.startswith(("<!doctype html", "<html")):
        raise Refusal("web-page")
    if "<" not in text or text.count("\0") > len(text) // 100:
        raise Refusal("no-svg")
