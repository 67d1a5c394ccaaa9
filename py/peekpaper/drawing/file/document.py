"""The text of an SVG file as a tree of elements, read safely.

Nothing outside the file is ever fetched: the parser knows no way to load an external entity or DTD.
Entities that the file itself declares are replaced, as long as that does not blow it up.
"""

import html.entities
from collections import Counter
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from typing import Any
from xml.etree.ElementTree import Element, ParseError, TreeBuilder, XMLParser
from xml.parsers import expat

from peekpaper.refusal import Refusal

SVG = "{http://www.w3.org/2000/svg}"
XLINK = "{http://www.w3.org/1999/xlink}"
HTML = "{http://www.w3.org/1999/xhtml}"
XML = "{http://www.w3.org/XML/1998/namespace}"

MAX_ENTITY_TEXT = 8_000_000
"""How many characters the file's own entities may stand for, all in all."""
MAX_ENTITIES = 5_000
"""How many entities a file may declare: drawing programs declare a few dozen."""
MAX_ELEMENTS = 200_000
MAX_DEPTH = 200
_MOST_STRAY = 8
"""So many end tags of nothing are left out at most: the text is parsed anew for each."""
_OTHER_ENTITIES = {name.removesuffix(";"): value for name, value in html.entities.html5.items()}
"""Names that files use as if they were web pages; without them one `&nbsp;` would end the reading."""


@dataclass(frozen=True, slots=True, eq=False)
class Document:
    """The root element, the elements by id (the first one counts) and their number.

    `broken_off` tells that the file ends or turns bad before it should; `external` counts the references to
    entities outside of it.
    """

    root: Element
    by_id: dict[str, Element]
    count: int
    broken_off: bool
    external: int


def local_name(element: Element) -> str | None:
    """Return the name of an SVG element, or None for an element of another namespace."""
    tag = element.tag
    return tag[len(SVG) :] if isinstance(tag, str) and tag.startswith(SVG) else None


def link(element: Element) -> str | None:
    """Return the address that an element points to; `href` goes before `xlink:href` (SVG 2, 16.1)."""
    address = element.get("href", element.get(XLINK + "href"))
    return address.strip() if address is not None else None


def read_document(text: str) -> Document:
    """Return the tree of an SVG file; one that breaks off is read as far as it goes.

    End tags of what was never begun are left out: where metadata was taken out by hand, some stay behind.
    Raises Refusal where nothing can be read, for a root other than `svg`, and for entities that grow without
    end.
    """
    external = _check_entities(text)
    builder, error = _parsed(text, external)
    for _ in range(_MOST_STRAY):
        whole = _without_stray_end(text, error) if error is not None else None
        if whole is None:
            break
        text = whole
        builder, error = _parsed(text, external)
    root = _svg_root(_read_so_far(builder))
    by_id: dict[str, Element] = {}
    for element in root.iter():
        identity = element.get("id", element.get(XML + "id"))
        if identity:
            by_id.setdefault(identity, element)
    is_broken_off = error is not None
    return Document(
        root, by_id, builder.count, is_broken_off, sum(text.count(f"&{name};") for name in external)
    )


def _parsed(text: str, external: set[str]) -> "tuple[_Builder, ParseError | None]":
    """Return what a text holds up to the first error, and that."""
    builder = _Builder()
    parser = XMLParser(target=builder)
    parser.entity.update(_OTHER_ENTITIES)
    parser.entity.update(dict.fromkeys(external, ""))
    try:
        parser.feed(text)
        parser.close()
    except ParseError as error:
        if "amplification" in str(error):
            raise Refusal("endless-entities") from None
        return builder, error
    return builder, None


def _without_stray_end(text: str, error: ParseError) -> str | None:
    """Return a text without the end tag that an error tells of, None where it tells of something else."""
    if error.code != expat.errors.codes[expat.errors.XML_ERROR_TAG_MISMATCH]:
        return None
    line, column = error.position
    start = sum(len(before) + 1 for before in text.split("\n", line)[: line - 1]) + column - len("</")
    if not text.startswith("</", start):
        return None
    return text[:start] + text[text.index(">", start) + 1 :]


class _Builder(TreeBuilder):
    """Builds a tree as long as it is neither too deep nor too large; raises Refusal once it is.

    The page's Python could not even let go of a tree that is far too deep.
    """

    def __init__(self) -> None:
        super().__init__()
        self.count = 0
        self._depth = 0

    def start(self, tag: str, attrs: dict[Any, Any], /) -> Element:
        self.count += 1
        self._depth += 1
        if self._depth > MAX_DEPTH:
            raise Refusal("groups-nested", most=MAX_DEPTH)
        if self.count > MAX_ELEMENTS:
            raise Refusal("too-many-parts", most=MAX_ELEMENTS)
        return super().start(tag, attrs)

    def end(self, tag: str, /) -> Element:
        self._depth -= 1
        return super().end(tag)


def _read_so_far(builder: TreeBuilder) -> Element | None:
    try:
        return builder.close()
    except (AssertionError, ParseError):
        return None


def _svg_root(root: Element | None) -> Element:
    if root is not None and root.tag == "svg":
        # A file without the namespace is shown by no renderer, yet what was meant is plain.
        for element in root.iter():
            if isinstance(element.tag, str) and "}" not in element.tag:
                element.tag = SVG + element.tag
    if root is None or root.tag != SVG + "svg":
        raise Refusal("no-svg")
    return root


class _BodyReachedError(Exception):
    """The root element has begun: no more entities can be declared."""


def _check_entities(text: str) -> set[str]:
    """Return the names of entities that lie outside the file.

    Raises Refusal if those in it stand for too much text.
    """
    if "<!DOCTYPE" not in text:
        return set()
    if text.count("<!ENTITY") > MAX_ENTITIES:
        raise Refusal("endless-entities")
    size = 0
    values, external = _declared_entities(text)
    lengths: dict[str, int] = {}
    for name, count in Counter(_references(text)).items():
        size += count * _full_length(name, values, lengths, 0) if name in values else 0
        if size > MAX_ENTITY_TEXT:
            raise Refusal("endless-entities")
    return external


def _declared_entities(text: str) -> tuple[dict[str, str], set[str]]:
    """Return the values of the entities that a file declares, and the names of those that lie outside it."""
    values: dict[str, str] = {}
    external: set[str] = set()

    def keep(name: str, is_parameter: bool, value: str | None, *_: object) -> None:
        if is_parameter or name in values or name in external:
            return
        if value is None:
            external.add(name)
        else:
            values[name] = value

    def stop(*_: object) -> None:
        raise _BodyReachedError

    parser = expat.ParserCreate()
    parser.EntityDeclHandler = keep
    parser.StartElementHandler = stop
    with suppress(_BodyReachedError, expat.ExpatError):
        parser.Parse(text, True)
    return values, external


def _full_length(name: str, values: dict[str, str], lengths: dict[str, int], depth: int) -> int:
    """Return how many characters an entity stands for, with the entities in it replaced too."""
    if name not in lengths:
        value = values[name]
        if depth > 50:
            raise Refusal("endless-entities")
        lengths[name] = len(value) + sum(
            _full_length(inner, values, lengths, depth + 1) for inner in _references(value) if inner in values
        )
    return lengths[name]


def _references(value: str) -> Iterator[str]:
    for part in value.split("&")[1:]:
        yield part.partition(";")[0]
