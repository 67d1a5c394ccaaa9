"""Which declarations apply to which element: attributes, style sheets and style attributes in their order."""

from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import NamedTuple
from xml.etree.ElementTree import Element

import cssselect2
import tinycss2
from tinycss2.ast import AtRule, Declaration, Node, QualifiedRule

from peekpaper.drawing.css.style import ATTRIBUTES, FONT_SIZES, PROPERTIES
from peekpaper.drawing.css.transform import is_attribute_transform
from peekpaper.drawing.file.document import HTML, SVG, Document
from peekpaper.refusal import Refusal

MAX_TESTS = 20_000_000
"""How often a selector may be held against an element, at the worst, for a whole file."""
MAX_RULES = 20_000
MAX_DECLARATIONS = 60_000
"""How many declarations a file may hold, each style attribute counted once: each takes some 0.1 ms."""
_SHEETS = (SVG + "style", HTML + "style")
"""Browsers take those of web pages too, wherever they stand."""


class _Declared(NamedTuple):
    name: str
    text: str
    is_important: bool


class _Rule(NamedTuple):
    selector: "cssselect2.compiler.CompiledSelector"
    looks_at_siblings: bool
    declared: tuple[_Declared, ...]


class Cascade:
    """Answers which values are declared for an element, the winning ones last (CSS Cascade 4, chapter 6)."""

    def __init__(self, document: Document) -> None:
        """Match all style sheets of the file; raises Refusal for sheets that are too much to match."""
        try:
            self._matched = _match_sheets(document)
        except RecursionError:
            raise Refusal("style-sheet-nested") from None

    def declarations(self, element: Element) -> list[tuple[str, str]]:
        """Return pairs of property and value; of two with one name the later one wins."""
        found = [
            (name, text.strip())
            for name, text in element.attrib.items()
            if name in ATTRIBUTES and (name != "transform" or is_attribute_transform(text))
        ]
        style = element.get("style")
        declared = self._matched.get(element, ()) + (_style_attribute(style) if style else ())
        if declared:
            # Python's sort is stable: what is important goes last, each kind in its own order.
            found += [(one.name, one.text) for one in sorted(declared, key=_importance)]
        return found


def _importance(declared: _Declared) -> bool:
    return declared.is_important


@lru_cache(maxsize=8192)
def _style_attribute(text: str) -> tuple[_Declared, ...]:
    try:
        return tuple(
            _declared(tinycss2.parse_blocks_contents(text, skip_comments=True, skip_whitespace=True))
        )
    except RecursionError:
        return ()


def _declared(nodes: Iterable[Node]) -> Iterator[_Declared]:
    for node in nodes:
        if isinstance(node, Declaration):
            text = tinycss2.serialize([part for part in node.value if part.type != "comment"]).strip()
            if node.name.startswith("--"):
                yield _Declared(node.name, text, bool(node.important))
            elif node.lower_name in PROPERTIES:
                yield _Declared(node.lower_name, text, bool(node.important))
            elif node.lower_name == "font":
                yield from (
                    _Declared(name, value, bool(node.important)) for name, value in _longhands(node.value)
                )
            elif node.lower_name == "marker":
                for end in ("marker-start", "marker-mid", "marker-end"):
                    yield _Declared(end, text, bool(node.important))


def _longhands(font: Iterable[Node]) -> Iterator[tuple[str, str]]:
    """Yield what a `font` shorthand declares: style, weight, size and families (CSS Fonts 4, 2.7)."""
    parts = iter(part for part in font if part.type != "whitespace")
    for part in parts:
        is_word = part.type == "ident" and part.lower_value in FONT_SIZES
        if is_word or part.type in ("dimension", "percentage"):
            yield "font-size", part.serialize()
            break
        if part.type == "ident" and part.lower_value in ("italic", "oblique"):
            yield "font-style", part.lower_value
        elif part.type == "number" or (part.type == "ident" and part.lower_value in ("bold", "bolder")):
            yield "font-weight", part.serialize()
    rest = list(parts)
    if rest and rest[0] == "/":
        rest = rest[2:]
    families = " ".join(part.serialize() for part in rest)
    if families:
        yield "font-family", families


def _match_sheets(document: Document) -> dict[Element, tuple[_Declared, ...]]:
    """Return what the style sheets declare for each element, by rising precedence."""
    sheets = [
        "".join(sheet.itertext())
        for sheet in document.root.iter()
        if sheet.tag in _SHEETS
        and sheet.get("type", "text/css").strip().lower() in ("", "text/css")
        and _medium_applies(sheet.get("media", "all"))
    ]
    attributes = {element.get("style", "") for element in document.root.iter()}
    if (
        sum(sheet.count("{") for sheet in sheets) > MAX_RULES
        or sum(text.count(";") for text in (*sheets, *attributes)) > MAX_DECLARATIONS
    ):
        raise Refusal("too-many-style-rules")
    rules = [
        rule for sheet in sheets for rule in _rules(tinycss2.parse_stylesheet(sheet, skip_comments=True))
    ]
    if not rules:
        return {}
    _check_work(rules, document)
    matcher = cssselect2.Matcher()
    for rule in rules:
        matcher.add_selector(rule.selector, rule.declared)
    matched = {}
    for wrapper in _Wrapper.from_xml_root(document.root).iter_subtree():
        found = [declared for _, _, pseudo, declared in matcher.match(wrapper) if pseudo is None]
        if found:
            matched[wrapper.etree_element] = tuple(one for declared in found for one in declared)
    return matched


def _check_work(rules: list[_Rule], document: Document) -> None:
    siblings = max(len(element) for element in document.root.iter())
    tests = sum(siblings if rule.looks_at_siblings else 1 for rule in rules) * document.count
    if tests > MAX_TESTS:
        raise Refusal("too-many-style-rules")


class _Wrapper(cssselect2.ElementWrapper):  # type: ignore[misc]  # the library has no types
    """Finds its siblings one by one: the library's own way calls itself once for each of them."""

    @property
    def previous_siblings(self) -> "Iterator[_Wrapper]":
        """The siblings before this one, the nearest first."""
        sibling = self.previous
        while sibling is not None:
            yield sibling
            sibling = sibling.previous


def _rules(nodes: Iterable[Node]) -> Iterator[_Rule]:
    for node in nodes:
        if isinstance(node, AtRule) and node.lower_at_keyword == "media" and node.content is not None:
            if _medium_applies(tinycss2.serialize(node.prelude)):
                yield from _rules(tinycss2.parse_rule_list(node.content, skip_comments=True))
        elif isinstance(node, QualifiedRule):
            contents = tinycss2.parse_blocks_contents(node.content, skip_comments=True, skip_whitespace=True)
            declared = tuple(_declared(contents))
            try:
                selectors = cssselect2.compile_selector_list(node.prelude)
            except cssselect2.SelectorError:
                continue
            written = tinycss2.serialize(node.prelude)
            looks_at_siblings = any(sign in written for sign in ("~", ":nth", ":last", ":only", ":has"))
            for selector in selectors:
                yield _Rule(selector, looks_at_siblings, declared)


def _medium_applies(query: str) -> bool:
    """Tell whether a media query holds for a screen; one that asks for more than the medium does not."""
    return any(part.strip().lower() in ("", "all", "screen", "only screen") for part in query.split(","))
