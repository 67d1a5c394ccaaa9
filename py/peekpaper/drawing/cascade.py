"""Which declarations apply to which element: attributes, style sheets and style attributes in their order."""

from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import NamedTuple
from xml.etree.ElementTree import Element

import cssselect2
import tinycss2
from tinycss2.ast import AtRule, Declaration, Node, QualifiedRule

from peekpaper.drawing.document import SVG
from peekpaper.drawing.style import PROPERTIES


class _Declared(NamedTuple):
    name: str
    text: str
    important: bool


class Cascade:
    """Answers which values are declared for an element, the winning ones last (CSS Cascade 4, chapter 6)."""

    def __init__(self, root: Element) -> None:
        self._matched = _match_sheets(root)

    def declarations(self, element: Element) -> list[tuple[str, str]]:
        """Return pairs of property and value; of two with one name the later one wins."""
        found = [(name, text.strip()) for name, text in element.attrib.items() if name in PROPERTIES]
        declared = self._matched.get(element, ())
        style = element.get("style")
        if style:
            declared = (*declared, *_style_attribute(style))
        if not declared:
            return found
        found += [(name, text) for name, text, important in declared if not important]
        found += [(name, text) for name, text, important in _important_in_order(self, element) if important]
        return found


def _important_in_order(cascade: Cascade, element: Element) -> Iterable[_Declared]:
    style = element.get("style")
    return (*cascade._matched.get(element, ()), *(_style_attribute(style) if style else ()))


@lru_cache(maxsize=8192)
def _style_attribute(text: str) -> tuple[_Declared, ...]:
    return tuple(_declared(tinycss2.parse_blocks_contents(text, skip_comments=True, skip_whitespace=True)))


def _declared(nodes: Iterable[Node]) -> Iterator[_Declared]:
    for node in nodes:
        if isinstance(node, Declaration):
            value = tinycss2.serialize([part for part in node.value if part.type != "comment"]).strip()
            name = node.lower_name
            if name in PROPERTIES:
                yield _Declared(name, value, bool(node.important))
            elif name == "marker":
                for end in ("marker-start", "marker-mid", "marker-end"):
                    yield _Declared(end, value, bool(node.important))


def _match_sheets(root: Element) -> dict[Element, tuple[_Declared, ...]]:
    """Return what the style sheets declare for each element, by rising precedence."""
    matcher = cssselect2.Matcher()
    count = 0
    for sheet in root.iter(SVG + "style"):
        if sheet.get("type", "text/css").strip().lower() not in ("", "text/css"):
            continue
        if _medium_applies(sheet.get("media", "all")):
            for selector, declared in _rules("".join(sheet.itertext())):
                matcher.add_selector(selector, declared)
                count += 1
    if not count:
        return {}
    matched = {}
    for wrapper in cssselect2.ElementWrapper.from_xml_root(root).iter_subtree():
        found = [match for match in matcher.match(wrapper) if match[2] is None]
        if found:
            matched[wrapper.etree_element] = tuple(one for match in found for one in match[3])
    return matched


def _rules(css: str) -> Iterator[tuple[cssselect2.compiler.CompiledSelector, tuple[_Declared, ...]]]:
    nodes = tinycss2.parse_stylesheet(css, skip_comments=True, skip_whitespace=True)
    yield from _rules_of(nodes)


def _rules_of(
    nodes: Iterable[Node],
) -> Iterator[tuple[cssselect2.compiler.CompiledSelector, tuple[_Declared, ...]]]:
    for node in nodes:
        if isinstance(node, AtRule) and node.lower_at_keyword == "media" and node.content is not None:
            if _medium_applies(tinycss2.serialize(node.prelude)):
                yield from _rules_of(
                    tinycss2.parse_rule_list(node.content, skip_comments=True, skip_whitespace=True)
                )
        elif isinstance(node, QualifiedRule):
            declared = tuple(
                _declared(
                    tinycss2.parse_blocks_contents(node.content, skip_comments=True, skip_whitespace=True)
                )
            )
            try:
                selectors = cssselect2.compile_selector_list(node.prelude)
            except cssselect2.SelectorError:
                continue
            for selector in selectors:
                yield selector, declared


def _medium_applies(query: str) -> bool:
    """Tell whether a media query holds for a screen; one that asks for more than the medium does not."""
    return any(part.strip().lower() in ("", "all", "screen", "only screen") for part in query.split(","))
