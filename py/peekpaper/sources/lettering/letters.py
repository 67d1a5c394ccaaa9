"""The letters of a `text` element, and the places that the file gives them (SVG 2, chapter 11)."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from xml.etree.ElementTree import Element

from peekpaper.drawing.css.css_lengths import Axis, Measures, parse_length, to_px
from peekpaper.drawing.css.style import Style
from peekpaper.drawing.file.document import XML, local_name
from peekpaper.drawing.tree.conditions import passes_conditions
from peekpaper.drawing.tree.walk import Walker

MOST_LETTERS = 20_000
"""In a file; a page of a book has some 3,000 (from memory)."""
_HOLDS_TEXT = ("tspan", "a", "textPath")
_ALSO_THERE = ("title", "desc", "metadata", "animate", "animateTransform", "set", "path")
_PRESERVED = ("pre", "pre-wrap", "break-spaces")
_SPACE = re.compile(r"\s")


class UndrawableError(Exception):
    """An element holds what is not drawn here."""


@dataclass(slots=True)
class Letter:
    """A letter, what holds it, how it is set, and where, None or 0 where the file does not say."""

    text: str
    holder: Element
    style: Style
    measures: Measures
    along: Element | None
    x: float | None = None
    y: float | None = None
    dx: float = 0.0
    dy: float = 0.0
    turn: float = 0.0
    baseline: float = 0.0


@dataclass(slots=True)
class _Span:
    """An element, which letters it holds, and how lengths are measured in it."""

    element: Element
    first: int
    end: int
    measures: Measures


@dataclass(frozen=True, slots=True)
class _Line:
    """What a piece of text runs along, None for a level line, and how far below it its baseline lies."""

    along: Element | None
    baseline: float


def letters_of(text: Element, style: Style, measures: Measures, walker: Walker) -> list[Letter]:
    """Return the letters of a `text` element, spaces collapsed; `style` and `measures` are those inside it.

    Raises UndrawableError where it holds something else than words, or is set from top to bottom.
    """
    gathered = _Gathered(walker)
    gathered.take(text, style, measures, _Line(None, 0.0))
    letters = gathered.letters
    if letters and letters[-1].text == " " and not _keeps_spaces(letters[-1].holder, letters[-1].style):
        letters.pop()
    for span in gathered.spans:
        _place(span, letters)
    return letters


class _Gathered:
    """The letters and spans of a `text` element as they are come by, inner spans first."""

    def __init__(self, walker: Walker) -> None:
        self.letters: list[Letter] = []
        self.spans: list[_Span] = []
        self._walker = walker

    def take(self, element: Element, style: Style, measures: Measures, around: _Line) -> None:
        """Take the letters that an element holds; `around` is the line of what holds it."""
        if not style.writing_mode.startswith(("horizontal", "lr", "rl")):
            raise UndrawableError
        span = _Span(element, len(self.letters), 0, measures)
        along = element if local_name(element) == "textPath" else around.along
        line = _Line(along, around.baseline + _shift(style, measures))
        self._add(element.text, element, style, measures, line)
        for child in element:
            name = local_name(child)
            if name in _HOLDS_TEXT and passes_conditions(child):
                own = self._walker.element_style(child, style)
                if own.display != "none":
                    self.take(child, own, replace(measures, font_size=own.font_size), line)
            elif name is not None and name not in (*_HOLDS_TEXT, *_ALSO_THERE):
                raise UndrawableError
            self._add(child.tail, element, style, measures, line)
        span.end = len(self.letters)
        self.spans.append(span)

    def _add(self, words: str | None, holder: Element, style: Style, measures: Measures, line: _Line) -> None:
        for letter in _SPACE.sub(" ", words or ""):
            is_more = letter == " " and not _keeps_spaces(holder, style)
            if is_more and (not self.letters or self.letters[-1].text == " "):
                continue
            self.letters.append(Letter(letter, holder, style, measures, line.along, baseline=line.baseline))
            if len(self.letters) > MOST_LETTERS:
                raise UndrawableError


def _keeps_spaces(element: Element, style: Style) -> bool:
    return style.white_space in _PRESERVED or element.get(XML + "space") == "preserve"


def _shift(style: Style, measures: Measures) -> float:
    """Return how far below the line an element's own baseline lies."""
    shift = style.baseline_shift
    length = parse_length({"baseline": "0", "sub": "-0.2em", "super": "0.4em"}.get(shift, shift))
    if length is None:
        return 0.0
    # Percentages are of the font's size, near enough of the line's height.
    return -to_px(length, Axis.BOTH, replace(measures, width=measures.font_size, height=measures.font_size))


def _place(span: _Span, letters: list[Letter]) -> None:
    """Give letters their places; inner elements come first, and what they say goes before."""
    own = letters[span.first : min(span.end, len(letters))]
    for name, axis in (("x", Axis.X), ("y", Axis.Y)):
        for letter, place in zip(own, _lengths(span, name, axis), strict=False):
            if getattr(letter, name) is None:
                setattr(letter, name, place)
    for name, axis in (("dx", Axis.X), ("dy", Axis.Y)):
        for letter, shift in zip(own, _lengths(span, name, axis), strict=False):
            if getattr(letter, name) == 0:
                setattr(letter, name, shift)
    turns = list(_numbers(span.element.get("rotate", "")))
    for index, letter in enumerate(own if turns else ()):
        if letter.turn == 0:
            letter.turn = turns[min(index, len(turns) - 1)]


def _lengths(span: _Span, name: str, axis: Axis) -> Iterator[float]:
    for word in span.element.get(name, "").replace(",", " ").split():
        length = parse_length(word)
        if length is None:
            return
        yield to_px(length, axis, span.measures)


def _numbers(text: str) -> Iterator[float]:
    for word in text.replace(",", " ").split():
        length = parse_length(word)
        if length is None:
            return
        yield length.amount
