"""Typefaces that a design's file holds, in `data:` addresses of its style sheets (CSS Fonts 4, chapter 4)."""

import base64
import binascii
import re
from collections.abc import Iterator
from urllib.parse import unquote_to_bytes

import tinycss2
from tinycss2.ast import Node

from peekpaper.drawing.file.document import HTML, SVG, Document
from peekpaper.refusal import Refusal
from peekpaper.sources.lettering.typeface import Typeface, called, read_typeface

MOST_TYPEFACES = 40
_SHEETS = (SVG + "style", HTML + "style")


def typefaces_in(document: Document) -> list[Typeface]:
    """Return the typefaces in a file that can be read, each by the name that the file gives it."""
    found: list[Typeface] = []
    sheets = ["".join(sheet.itertext()) for sheet in document.root.iter() if sheet.tag in _SHEETS]
    for name, data in (face for sheet in sheets for face in _faces(sheet)):
        if len(found) == MOST_TYPEFACES:
            break
        try:
            found.append(called(read_typeface(data), name))
        except Refusal:
            continue
    return found


def _faces(sheet: str) -> Iterator[tuple[str, bytes]]:
    for rule in tinycss2.parse_stylesheet(sheet, skip_comments=True, skip_whitespace=True):
        if rule.type != "at-rule" or rule.lower_at_keyword != "font-face" or rule.content is None:
            continue
        declared = {
            one.lower_name: one.value
            for one in tinycss2.parse_blocks_contents(rule.content, skip_comments=True, skip_whitespace=True)
            if one.type == "declaration"
        }
        name = tinycss2.serialize(declared.get("font-family", [])).strip("\"' \t\r\n")
        for address in _addresses(declared.get("src", [])):
            data = _decoded(address)
            if name and data is not None:
                yield name, data
                break


def _addresses(source: list[Node]) -> Iterator[str]:
    for part in source:
        if part.type == "url":
            yield part.value
        elif part.type == "function" and part.lower_name == "url":
            yield from (inner.value for inner in part.arguments if inner.type == "string")


def _decoded(address: str) -> bytes | None:
    """Return what a `data:` address holds (RFC 2397), None where it is another or can't be read."""
    head, comma, coded = address.partition(",")
    if not comma or not head.lower().startswith("data:"):
        return None
    data = unquote_to_bytes(coded)
    if not head.lower().endswith(";base64"):
        return data
    try:
        return base64.b64decode(re.sub(rb"\s+", b"", data) + b"==")
    except (binascii.Error, ValueError):
        return None
