"""From the letters of a `text` element to outlines in their places (SVG 2, 11.5)."""

import cmath
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from xml.etree.ElementTree import Element

from peekpaper.drawing.css.css_lengths import Axis, to_px
from peekpaper.sources.lettering.along import Along
from peekpaper.sources.lettering.letters import Letter
from peekpaper.sources.lettering.shaping import Command, Glyph, Shaper

_ANCHORS = {"start": 0.0, "middle": 0.5, "end": 1.0}
_SPACED = 1e-6


@dataclass(frozen=True, slots=True)
class PlacedGlyph:
    """A glyph's outlines in user units, and the element whose letter it is."""

    holder: Element
    commands: tuple[Command, ...]


@dataclass(frozen=True, slots=True)
class _Set:
    """A glyph, its first letter, its shaper, where along the line it begins and how long its place is."""

    glyph: Glyph
    letter: Letter
    shaper: Shaper
    at: complex
    advance: float


ShaperOf = Callable[[Letter], Shaper]
LineOf = Callable[[Element], Along | None]


def placed(letters: Sequence[Letter], shaper_of: ShaperOf, line_of: LineOf) -> Iterator[PlacedGlyph]:
    """Yield the glyphs of the letters of one `text` element."""
    pen = 0j
    for chunk in _chunks(letters):
        line = None if chunk[0].along is None else line_of(chunk[0].along)
        if chunk[0].along is not None and line is None:
            continue
        first = chunk[0]
        if line is not None:
            pen = complex(line.start if first.x is None else line.start + first.x, 0)
        else:
            pen = complex(pen.real if first.x is None else first.x, pen.imag if first.y is None else first.y)
        begun = pen
        glyphs: list[_Set] = []
        for run in _runs(chunk, shaper_of):
            pen = _set_run(run, shaper_of(run[0]), pen, glyphs)
        anchor = _ANCHORS[first.style.text_anchor]
        if first.style.direction == "rtl":
            anchor = 1 - anchor
        shift = (pen - begun).real * anchor
        pen -= shift
        for one in glyphs:
            commands = _drawn(one, one.at - shift, line)
            if commands:
                yield PlacedGlyph(one.letter.holder, commands)


def _chunks(letters: Sequence[Letter]) -> Iterator[list[Letter]]:
    """Yield letters that are anchored together: a place of its own begins a chunk."""
    chunk: list[Letter] = []
    for letter in letters:
        begins = letter.along is not chunk[-1].along if chunk else False
        if chunk and (begins or letter.x is not None or (letter.y is not None and letter.along is None)):
            yield chunk
            chunk = []
        chunk.append(letter)
    if chunk:
        yield chunk


def _runs(chunk: Sequence[Letter], shaper_of: ShaperOf) -> Iterator[list[Letter]]:
    """Yield letters that are shaped together: of one typeface and size, and not shifted or turned apart."""
    number = 0
    numbers = []
    for index, letter in enumerate(chunk):
        before = chunk[index - 1] if index else letter
        is_apart = (
            letter.dx
            or letter.dy
            or letter.turn
            or before.turn
            or shaper_of(letter) is not shaper_of(before)
            or letter.measures.font_size != before.measures.font_size
            or letter.baseline != before.baseline
            or letter.style.letter_spacing != before.style.letter_spacing
        )
        number += bool(is_apart)
        numbers.append(number)
    for _, run in groupby(zip(numbers, chunk, strict=True), lambda pair: pair[0]):
        yield [letter for _, letter in run]


def _set_run(run: list[Letter], shaper: Shaper, pen: complex, glyphs: list[_Set]) -> complex:
    """Add the glyphs of letters that are shaped together; return where the next begin."""
    first = run[0]
    size, measures = first.measures.font_size, first.measures
    spacing = to_px(first.style.letter_spacing, Axis.X, measures)
    between_words = to_px(first.style.word_spacing, Axis.X, measures)
    pen += complex(first.dx, first.dy)
    shaped = shaper.shape([letter.text for letter in run], abs(spacing) > _SPACED)
    below = first.baseline + size * _below(first.style.dominant_baseline, shaper)
    for index, glyph in enumerate(shaped):
        letter = run[glyph.letter]
        advance = glyph.advance * size
        is_last_of_its_letter = index + 1 == len(shaped) or shaped[index + 1].letter != glyph.letter
        if is_last_of_its_letter:
            advance += spacing + (between_words if letter.text.isspace() else 0.0)
        glyphs.append(_Set(glyph, letter, shaper, pen + 1j * below, advance))
        pen += advance
    return pen


def _below(dominant_baseline: str, shaper: Shaper) -> float:
    """Return how far letters move down, in ems, for another baseline than that of Latin letters."""
    metrics = shaper.metrics
    return {
        "middle": metrics.x_height / 2,
        "central": (metrics.ascent + metrics.descent) / 2,
        "hanging": 0.8 * metrics.ascent,
        "mathematical": metrics.ascent / 2,
        "text-before-edge": metrics.ascent,
        "text-top": metrics.ascent,
        "text-after-edge": metrics.descent,
        "text-bottom": metrics.descent,
        "ideographic": metrics.descent,
    }.get(dominant_baseline, 0.0)


def _drawn(one: _Set, at: complex, line: Along | None) -> tuple[Command, ...]:
    """Return a glyph's outlines where it comes to lie; nothing where that is beyond the line's ends."""
    direction = cmath.rect(1, math.radians(one.letter.turn))
    if line is not None:
        place = line.at(at.real + one.advance / 2)
        if place is None:
            return ()
        point, along = place
        direction *= along
        at = point + along * complex(-one.advance / 2, at.imag)
    size = one.letter.measures.font_size
    return tuple(
        (name, tuple(at + direction * size * (point + one.glyph.offset).conjugate() for point in points))
        for name, points in one.shaper.outlines(one.glyph.number)
    )
