"""What a person brings, as the text of an SVG file, or a word on what it is instead."""

import codecs
import re
import zlib

from peekpaper.bounds import MAX_BYTES
from peekpaper.refusal import Refusal

_OTHER_KINDS = (
    (b"\x89PNG", "a PNG picture"),
    (b"\xff\xd8\xff", "a JPEG picture"),
    (b"GIF8", "a GIF picture"),
    (b"BM", "a BMP picture"),
    (b"II*\0", "a TIFF picture"),
    (b"MM\0*", "a TIFF picture"),
    (b"\0\0\1\0", "an icon picture"),
    (b"%PDF", "a PDF file"),
    (b"%!PS", "a PostScript file"),
    (b"\xc5\xd0\xd3\xc6", "a PostScript file"),
    (b"PK\3\4", "a zip file"),
    (b"Rar!", "a RAR file"),
    (b"7z\xbc\xaf", "a 7z file"),
    (b"{\\rtf", "a text document"),
    (b"\xd0\xcf\x11\xe0", "an office document"),
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
        raise Refusal("The file is empty: choose an SVG file.")
    if len(data) > MAX_BYTES:
        raise Refusal(
            f"The file is larger than {MAX_BYTES >> 20} MB: simplify it in your drawing program first."
        )
    for magic, kind in _OTHER_KINDS:
        if data.startswith(magic):
            raise Refusal(f"This is {kind}: {_advice(kind)}.")
    text = _decoded(data)
    declaration = _XML_DECLARATION.match(text)
    text = text[declaration.end() if declaration else 0 :].lstrip()
    _refuse_other_text(text)
    return text


def _advice(kind: str) -> str:
    if kind.endswith(("zip file", "RAR file", "7z file")):
        return "unpack it and choose the SVG file in it"
    if kind.endswith("picture"):
        return "trace it in your drawing program and save it as SVG"
    return "open it in your drawing program and save it as SVG"


def _unpacked(data: bytes) -> bytes:
    if not data.startswith(b"\x1f\x8b"):
        return data
    unpacker = zlib.decompressobj(wbits=31)
    try:
        unpacked = unpacker.decompress(data, MAX_BYTES + 1)
    except zlib.error:
        raise Refusal(_DAMAGED) from None
    if not unpacked and not unpacker.eof:
        raise Refusal(_DAMAGED)
    return unpacked


_DAMAGED = "The compressed file is damaged: get it again, or save it as plain SVG."


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
        raise Refusal("This is a web page: save the picture itself as an SVG file and choose that.")
    if "<" not in text or text.count("\0") > len(text) // 100:
        raise Refusal("This is no SVG file: choose a file that your drawing program saved as SVG.")
