"""A whole project in a link's fragment: nothing is sent anywhere, the friend's page unpacks it.

The fragment is URL-safe base64 (RFC 4648, section 5, unpadded) of

    CRC-32 of the rest (4 bytes) | version (1) | length of the decisions (4) | decisions | design

or, in version 2, which is made where small pictures go along,

    CRC-32 | 2 | length of the decisions | decisions | length of the design (4) | design | pictures

where the pictures are those that the document names, in that order, each with its length (2 bytes) before it,
0 for one that did not fit, or, in version 3, which is made where a plan goes along,

    CRC-32 | 3 | length of the decisions | decisions | length of the design | design
           | length of the plan (4) | plan | pictures

where the plan is what was kept of it (`plan/kept.py`), as JSON, for whoever reads it to judge. The decisions
are the project document without the design's text, its colourways made compact, and the design is that text;
these and the plan are compressed. The dictionary for that is `link_dictionary_1.json`: links already sent
depend on its bytes, so another dictionary takes another version.
"""

import base64
import json
import re
import struct
import zlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any, cast

from peekpaper.project.codec import Json, Mismatch
from peekpaper.project.compact import compact_papers, expand_papers
from peekpaper.project.compression import compress, decompress
from peekpaper.project.document import from_document, to_document
from peekpaper.project.envelope import refuse_mismatch
from peekpaper.project.json_text import read_json
from peekpaper.project.migrate import Document
from peekpaper.project.pictures_of import pictures_of
from peekpaper.project.project import Project
from peekpaper.refusal import Refusal

LONGEST_LINK = 60_000
"""Characters that messengers and browsers pass on unharmed (common practice, no published source)."""

_VERSION = 1
_VERSION_WITH_PICTURES = 2
_VERSION_WITH_PLAN = 3
_MOST_DECISIONS = 400_000
_MOST_PLAN = 4_000_000
_MOST_DESIGN = 4_000_000
_CHECKSUM = struct.Struct(">I")
_HEAD = struct.Struct(">BI")
_PART_LENGTH = struct.Struct(">I")
_PICTURE_LENGTH = struct.Struct(">H")
_FRAGMENT = re.compile(r"[A-Za-z0-9_-]+")


@dataclass(frozen=True, slots=True)
class Linked:
    """What a link holds: a project, small pictures by the keys that it names, and what is kept of a plan."""

    project: Project
    pictures: Mapping[str, bytes]
    plan: object = None


def to_link(project: Project, pictures: Mapping[str, bytes] = MappingProxyType({}), plan: Json = None) -> str:
    """Return the project as a URL fragment of letters, digits, "-" and "_" (without the "#").

    `pictures` are small ones by the keys that the project names, each under 64 KiB. `plan`, what is kept of
    one, is left out where the link gets too long with it. Raises Refusal where it is too long without.
    """
    document = to_document(project)
    source = cast(dict[str, Json], document["source"])
    design = cast(str, source.pop("svg")).encode()
    for colourway in cast(list[dict[str, Any]], document["colourways"]):
        colourway["papers"] = compact_papers(colourway["papers"])
    decisions = json.dumps(document, ensure_ascii=False, separators=(",", ":")).encode()
    compressed_decisions = compress(decisions, _dictionary())
    compressed_design = compress(design, _dictionary())
    if pictures or plan is not None:
        version = _VERSION_WITH_PICTURES if plan is None else _VERSION_WITH_PLAN
        body = _HEAD.pack(version, len(compressed_decisions)) + compressed_decisions
        body += _with_length(_PART_LENGTH, compressed_design)
        if plan is not None:
            text = json.dumps(plan, ensure_ascii=False, separators=(",", ":")).encode()
            body += _with_length(_PART_LENGTH, compress(text, _dictionary()))
        if pictures:
            packed_pictures = (pictures.get(key, b"") for key in pictures_of(project))
            body += b"".join(_with_length(_PICTURE_LENGTH, picture) for picture in packed_pictures)
    else:
        body = _HEAD.pack(_VERSION, len(compressed_decisions)) + compressed_decisions + compressed_design
    packed = _CHECKSUM.pack(zlib.crc32(body)) + body
    fragment = base64.urlsafe_b64encode(packed).decode().rstrip("=")
    if len(fragment) > LONGEST_LINK and plan is not None:
        return to_link(project, pictures)
    if len(fragment) > LONGEST_LINK or len(design) > _MOST_DESIGN or len(decisions) > _MOST_DECISIONS:
        raise Refusal("link-too-long", characters=len(fragment), most=LONGEST_LINK)
    return fragment


def from_link(text: str) -> Project:
    """Return the project in a link: its fragment, or the whole address with it.

    Raises Refusal as `open_link` does.
    """
    return open_link(text).project


def open_link(text: str) -> Linked:
    """Return what is in a link: its fragment, or the whole address with it.

    Raises Refusal where it is cut off, edited, foreign or newer, or holds more than a link can.
    """
    body = _checked_body(text.strip().rpartition("#")[2].removeprefix("p="))
    version, length = _HEAD.unpack_from(body)
    parts = body[_HEAD.size :]
    try:
        decisions = decompress(parts[:length], _dictionary(), _MOST_DECISIONS)
        compressed_design, rest = _part(parts[length:]) if version > _VERSION else (parts[length:], b"")
        design = decompress(compressed_design, _dictionary(), _MOST_DESIGN).decode()
        compressed_plan, rest = _part(rest) if version == _VERSION_WITH_PLAN else (b"", rest)
        plan = _plan_in(compressed_plan)
        pictures = tuple(_pictures_in(rest))
        document = _document_of(read_json(decisions.decode()), design)
    except Mismatch as mismatch:
        raise refuse_mismatch(mismatch, "link") from None
    except (ValueError, struct.error):
        raise Refusal("link-broken") from None
    project = from_document(document, "link")
    named = zip(pictures_of(project), pictures, strict=False)
    return Linked(project, {key: picture for key, picture in named if picture}, plan)


def _with_length(length: struct.Struct, part: bytes) -> bytes:
    return length.pack(len(part)) + part


def _part(rest: bytes) -> tuple[bytes, bytes]:
    """Return the part that its length stands before, and what comes behind it."""
    start = _PART_LENGTH.size
    end = start + _PART_LENGTH.unpack_from(rest)[0]
    return rest[start:end], rest[end:]


def _plan_in(compressed: bytes) -> object:
    """Return the plan as it is kept, None where there is none. Raises ValueError for what is no JSON."""
    return read_json(decompress(compressed, _dictionary(), _MOST_PLAN).decode()) if compressed else None


def _pictures_in(packed: bytes) -> Iterator[bytes]:
    """Yield the pictures one behind another. Raises ValueError where the last is cut off."""
    while packed:
        start = _PICTURE_LENGTH.size
        end = start + _PICTURE_LENGTH.unpack_from(packed)[0]
        if end > len(packed):
            raise ValueError("a picture is cut off")
        yield packed[start:end]
        packed = packed[end:]


def _checked_body(fragment: str) -> bytes:
    """Return what the checksum of a fragment covers, known to be whole and of a known version."""
    if not fragment:
        raise Refusal("link-empty")
    if not _FRAGMENT.fullmatch(fragment) or len(fragment) % 4 == 1 or len(fragment) > LONGEST_LINK:
        raise Refusal("link-broken")
    packed = base64.urlsafe_b64decode(fragment + "=" * (-len(fragment) % 4))
    body = packed[_CHECKSUM.size :]
    if len(body) < _HEAD.size or packed[: _CHECKSUM.size] != _CHECKSUM.pack(zlib.crc32(body)):
        raise Refusal("link-broken")
    if body[0] not in (_VERSION, _VERSION_WITH_PICTURES, _VERSION_WITH_PLAN):
        raise Refusal("link-newer")
    return body


def _document_of(decisions: object, design: str) -> Document:
    match decisions:
        case {"source": dict(source), "colourways": list(colourways)}:
            return {
                **cast(Document, decisions),
                "source": {**source, "svg": design},
                "colourways": [_colourway_of(colourway) for colourway in colourways],
            }
        case _:
            raise Mismatch("part-missing")


def _colourway_of(colourway: object) -> Document:
    match colourway:
        case {"papers": papers}:
            return {**cast(Document, colourway), "papers": expand_papers(papers)}
        case _:
            raise Mismatch("colourway-missing")


@lru_cache(maxsize=1)
def _dictionary() -> bytes:
    return files("peekpaper.project").joinpath("link_dictionary_1.json").read_bytes()
