"""The door of this room: the text of an SVG file to the same with its words as outlines beside them.

Words stay where they are, since renderers and people read them. What they look like is a `path`, the last
child of what holds them: `data-drawn-in` tells its typeface, `data-instead-of` that the file asks for another
one.
"""

import math
import re
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import lru_cache
from html import escape
from xml.etree.ElementTree import Element
from xml.parsers import expat

from peekpaper.drawing.css.cascade import Cascade
from peekpaper.drawing.css.css_lengths import Measures
from peekpaper.drawing.css.style import INITIAL, Style
from peekpaper.drawing.file.budget import Budget
from peekpaper.drawing.file.document import Document, local_name, read_document
from peekpaper.drawing.tree.lettering import DRAWN_IN, INSTEAD_OF, has_lettering
from peekpaper.drawing.tree.page import read_page
from peekpaper.drawing.tree.walk import Walker
from peekpaper.refusal import Refusal
from peekpaper.sources.glance import has_text
from peekpaper.sources.lettering.along import line_of
from peekpaper.sources.lettering.in_file import typefaces_in
from peekpaper.sources.lettering.layout import placed
from peekpaper.sources.lettering.letters import MOST_LETTERS, Letter, UndrawableError, letters_of
from peekpaper.sources.lettering.shaping import Command, Shaper, shaper
from peekpaper.sources.lettering.typeface import Typeface, best_of, is_slanted
from peekpaper.sources.svg_text import written

_MOST_COMMANDS = 1_000_000
_FIGURES = 5
"""Decimals of a length of 1: a hundred-thousandth of where the words reach."""
_STAND_IN = re.compile(rf'<path xmlns="[^"]*" {DRAWN_IN}="[^"]*" {INSTEAD_OF}="[^"]*" d="[^"]*"/>')
_MOST_SAMPLE = 40


@dataclass(frozen=True, slots=True)
class Words:
    """Words of a design that are not drawn in the file's own typeface: their beginning, and what it asks for.

    `family` is empty where the file names none, `drawn_in` where they have no outlines at all.
    """

    sample: str
    family: str
    drawn_in: str


def words_without_own(svg: str) -> tuple[Words, ...]:
    """Return the words in an SVG file that are not drawn in its own typeface."""
    if not has_text(svg):
        return ()
    document = read_document(svg)
    walker = _walker(document)
    return tuple(
        Words(sample, _asked(_style(text, walker)), stand_ins[0] if stand_ins else "")
        for text in _texts(document)
        if (sample := " ".join("".join(text.itertext()).split())[:_MOST_SAMPLE])
        and ((stand_ins := _stand_ins(text)) or not has_lettering(text))
    )


def _stand_ins(text: Element) -> list[str]:
    return [path.get(DRAWN_IN, "") for path in text.iter() if path.get(INSTEAD_OF) is not None]


def with_outlines(svg: str, added: Sequence[Typeface] = (), stand_in: Typeface | None = None) -> str:
    """Return the text of an SVG file with outlines for its words, as far as there are typefaces for them.

    These are those in the file and those that are `added`, by their names; where no words ask for any of the
    added ones, the first of them stands in for all that are missing, as `stand_in` does otherwise. Words that
    have the outlines of a stand-in are drawn anew.

    Raises Refusal where the file can't be read or would grow beyond all measure.
    """
    svg = _STAND_IN.sub("", svg) if added or stand_in else svg
    document = read_document(svg)
    texts = [text for text in _texts(document) if not has_lettering(text)]
    if not texts:
        return svg
    walker = _walker(document)
    known = [*typefaces_in(document), *added]
    asked = {name for text in texts for name in _names_asked(text, walker)}
    if added and not any(one.is_called(name) for one in added for name in asked):
        stand_in = added[0]
    drawer = _Drawer(walker, known, stand_in)
    measures = read_page(document.root, walker.element_style(document.root, INITIAL)).state.measures
    outlines = {holder: drawn for text in texts for holder, drawn in drawer.draw(text, measures)}
    return _inserted(svg, document, outlines)


def _walker(document: Document) -> Walker:
    return Walker(document, Cascade(document), Budget())


def _texts(document: Document) -> list[Element]:
    return [element for element in document.root.iter() if local_name(element) == "text"]


def _style(element: Element, walker: Walker) -> Style:
    return walker.element_style(element, walker.inherited_style(element))


def _names_asked(text: Element, walker: Walker) -> Iterator[str]:
    style = _style(text, walker)
    yield from style.font_family
    for part in text.iter():
        if part is not text and local_name(part) == "tspan":
            yield from _style(part, walker).font_family


def _asked(style: Style) -> str:
    return style.font_family[0] if style.font_family else ""


class _Drawer:
    """Draws the words of one file."""

    def __init__(self, walker: Walker, known: Sequence[Typeface], stand_in: Typeface | None) -> None:
        self._walker = walker
        self._known = known
        self._stand_in = stand_in
        self._shapers: dict[tuple[int, float, bool], Shaper] = {}
        self._letters = 0
        self._commands = 0
        self._choose = lru_cache(maxsize=1024)(self._chosen)

    def draw(self, text: Element, measures: Measures) -> Iterator[tuple[Element, str]]:
        """Yield what holds words of a `text` element, with the path of their outlines.

        Nothing where some letter has no typeface to draw it.
        """
        style = _style(text, self._walker)
        own = replace(measures, font_size=style.font_size)
        try:
            letters = letters_of(text, style, own, self._walker)
        except UndrawableError:
            return
        self._letters += len(letters)
        if self._letters > MOST_LETTERS or not all(map(self._can_draw, letters)):
            return
        held: dict[Element, list[Command]] = {}
        for glyph in placed(letters, self._shaper_of, lambda one: line_of(one, self._walker, own)):
            held.setdefault(glyph.holder, []).extend(glyph.commands)
            self._commands += len(glyph.commands)
            if self._commands > _MOST_COMMANDS:
                raise Refusal("lettering-too-much")
        styles = {letter.holder: letter.style for letter in letters}
        for holder, commands in held.items():
            path = self._path(styles[holder], commands)
            if path:
                yield holder, path

    def _chosen(self, families: tuple[str, ...], weight: float, slant: str) -> tuple[Typeface | None, bool]:
        """Return the typeface for a style, and whether it stands in for another."""
        style = replace(INITIAL, font_family=families, font_weight=weight, font_style=slant)
        for family in families:
            found = best_of([one for one in self._known if one.is_called(family)], style)
            if found is not None:
                return found, False
        return self._stand_in, True

    def _typeface(self, style: Style) -> tuple[Typeface | None, bool]:
        return self._choose(style.font_family, style.font_weight, style.font_style)

    def _can_draw(self, letter: Letter) -> bool:
        typeface, _ = self._typeface(letter.style)
        return typeface is not None and self._shaper_of(letter).has(letter.text)

    def _shaper_of(self, letter: Letter) -> Shaper:
        style = letter.style
        typeface, _ = self._typeface(style)
        assert typeface is not None
        key = (id(typeface), style.font_weight, is_slanted(style))
        if key not in self._shapers:
            self._shapers[key] = shaper(typeface, style)
        return self._shapers[key]

    def _path(self, style: Style, commands: Sequence[Command]) -> str:
        typeface, stands_in = self._typeface(style)
        size = max((abs(point) for _, points in commands for point in points), default=0.0)
        if typeface is None or not 0 < size < math.inf:
            return ""
        digits = max(0, _FIGURES - math.floor(math.log10(size)))
        data = "".join(
            name
            + " ".join(f"{written(point.real, digits)} {written(point.imag, digits)}" for point in points)
            for name, points in commands
        )
        instead = f' {INSTEAD_OF}="{escape(_asked(style))}"' if stands_in else ""
        return (
            f'<path xmlns="http://www.w3.org/2000/svg" {DRAWN_IN}="{escape(typeface.name)}"{instead}'
            f' d="{data}"/>'
        )


def _inserted(svg: str, document: Document, outlines: dict[Element, str]) -> str:
    """Return a file's text with a path before the end of each element that has one."""
    order = {element: index for index, element in enumerate(document.root.iter())}
    paths = {order[element]: path for element, path in outlines.items()}
    data = svg.encode()
    ends = _ends(data, set(paths))
    pieces = []
    at = 0
    for index, end in sorted(ends.items(), key=lambda pair: pair[1]):
        pieces += [data[at:end], paths[index].encode()]
        at = end
    return b"".join((*pieces, data[at:])).decode()


def _ends(data: bytes, wanted: set[int]) -> dict[int, int]:
    """Return where the end tags of elements stand, by how many began before; without those in entities."""
    parser = expat.ParserCreate()
    # So that entities that nobody declared, such as those of web pages, are passed over.
    parser.UseForeignDTD(True)
    parser.DefaultHandlerExpand = lambda _: None
    begun = 0
    open_ones: list[int] = []
    found: dict[int, int] = {}

    def start(*_: object) -> None:
        nonlocal begun
        open_ones.append(begun)
        begun += 1

    def end(*_: object) -> None:
        index, at = open_ones.pop(), parser.CurrentByteIndex
        if index in wanted and data[at : at + 2] == b"</":
            found[index] = at

    parser.StartElementHandler, parser.EndElementHandler = start, end
    # Of a file that breaks off, what ended before that is drawn.
    with suppress(expat.ExpatError):
        parser.Parse(data, True)
    return found
