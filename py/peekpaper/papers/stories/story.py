"""Palettes over the papers at hand that tell one story of colour: near one another, opposite, light to dark.

Near (analogous), opposite (complementary) and light to dark (monochrome) are harmonies of the colour wheel;
how far they reach around it is common practice, no published source. The wheel here is the hue angle of
CIELAB (CIE 15:2004).
"""

import math
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from peekpaper.papers.colour import TELLS_APART, Lab, difference, lab_difference, lab_of
from peekpaper.papers.paper import Paper
from peekpaper.refusal import Refusal


class StoryKind(StrEnum):
    """How the papers of a palette go together; `ALIKE` are those nearest to one colour."""

    NEAR = "near"
    OPPOSITE = "opposite"
    LIGHT_TO_DARK = "light-to-dark"
    ALIKE = "alike"


@dataclass(frozen=True, slots=True)
class Story:
    """A palette: ids of papers in its order."""

    kind: StoryKind
    papers: tuple[str, ...]


_FEWEST = 2
_STEP_AROUND = 30.0
"""Degrees of hue between the steps of a near palette."""
_STEP_UP = 12.0
"""Of lightness between the steps of one hue."""
_LIGHTEST, _DARKEST = 92.0, 22.0
_GREY_CHROMA = 8.0
"""Of a colour that has no hue to the eye (from memory)."""
_COLOURED_CHROMA = 18.0
"""Of a colour that no grey can stand for (from memory)."""
_ONE_HUE = 45.0
"""Degrees of hue up to which two colours go by one name (from memory)."""
_FITS = 28.0
"""The CIEDE2000 difference up to which a paper can stand for a colour of a story (by trial)."""


def stories(papers: Sequence[Paper], colour: str, count: int) -> tuple[Story, ...]:
    """Return palettes of up to `count` of the papers about a colour (`#rrggbb`).

    A palette has each paper once, and no two that are hard to tell apart, but for those that are simply
    `ALIKE`. Kinds for which fewer than two papers are at hand are left out. Raises Refusal where there are
    no papers.
    """
    if not papers:
        raise Refusal("no-paper-to-suggest")
    if count < 1:
        raise Refusal("papers-to-find")
    base = lab_of(colour)
    near, opposite, ramp = (
        tuple(_nearest_to(_wanted(kind, base, count), papers, count))
        for kind in (StoryKind.NEAR, StoryKind.OPPOSITE, StoryKind.LIGHT_TO_DARK)
    )
    found = (
        Story(StoryKind.NEAR, near),
        Story(StoryKind.OPPOSITE, opposite if _has_across(papers, opposite, base) else ()),
        Story(StoryKind.LIGHT_TO_DARK, light_to_dark(papers, ramp)),
        Story(StoryKind.ALIKE, tuple(_alike(papers, colour, count))),
    )
    return tuple(story for story in found if len(story.papers) >= _FEWEST)


def leading_colour(colours: Sequence[str]) -> str:
    """Return which of a photo's main colours stories are told about: the first with a hue, else the first."""
    coloured = (colour for colour in colours if _polar(lab_of(colour))[0] >= _COLOURED_CHROMA)
    return next(coloured, colours[0])


def light_to_dark(papers: Iterable[Paper], ids: Iterable[str]) -> tuple[str, ...]:
    """Return those ids by the lightness of their papers, the lightest first."""
    lightness = {paper.id: lab_of(paper.colour)[0] for paper in papers}
    return tuple(sorted(ids, key=lambda id_: (-lightness[id_], id_)))


def _wanted(kind: StoryKind, base: Lab, count: int) -> Iterator[Lab]:
    """Yield the colours that a story is made of, those that matter most first."""
    lightness = base[0]
    chroma, hue = _polar(base)
    if kind is StoryKind.LIGHT_TO_DARK:
        for step in range(count):
            part = step / max(1, count - 1)
            level = _LIGHTEST + part * (_DARKEST - _LIGHTEST)
            # Very light and very dark papers have less of their hue.
            yield _lab(level, chroma * (0.45 + 0.55 * math.sin(math.pi * (0.15 + 0.7 * part))), hue)
        return
    yield base
    if kind is StoryKind.NEAR:
        for step in range(1, count + 1):
            around = _STEP_AROUND * ((step + 1) // 2) * (1 if step % 2 else -1)
            yield _lab(lightness, chroma, hue + (around if abs(around) <= 2 * _STEP_AROUND else 0))
            yield _lab(_within(lightness + _STEP_UP * (2 if step % 2 else -2)), chroma, hue + around / 2)
        return
    across = hue + 180.0
    for step in range(count):
        up = _STEP_UP * ((step + 1) // 2) * (1 if step % 2 else -1)
        far = _lab(100 - lightness, 0.0, 0.0) if chroma < _GREY_CHROMA else _lab(lightness, chroma, across)
        yield _lab(_within(far[0] + up), *_polar(far))
        yield _lab(_within(lightness - 2 * up), chroma, hue)


def _nearest_to(wanted: Iterable[Lab], papers: Sequence[Paper], count: int) -> Iterator[str]:
    """Yield the papers nearest to the colours wanted, each once, told apart from all before."""
    chosen: list[Paper] = []
    for colour in wanted:
        if len(chosen) == count:
            return
        free = [paper for paper in papers if all(_are_apart(paper, other) for other in chosen)]
        nearest = min(free, key=lambda paper: _off(paper, colour), default=None)
        if nearest is not None and _off(nearest, colour) <= _FITS:
            chosen.append(nearest)
            yield nearest.id


def _has_across(papers: Sequence[Paper], chosen: Collection[str], base: Lab) -> bool:
    """Tell whether any of the chosen papers lies across the wheel from a colour; from grey, all do."""
    chroma, hue = _polar(base)
    if chroma < _GREY_CHROMA:
        return True
    hues = [_polar(lab_of(paper.colour))[1] for paper in papers if paper.id in chosen]
    return any(abs((one - hue) % 360.0 - 180.0) < 2 * _ONE_HUE for one in hues)


def _alike(papers: Sequence[Paper], colour: str, count: int) -> Iterator[str]:
    off = sorted((difference(paper.colour, colour), place) for place, paper in enumerate(papers))
    return (papers[place].id for apart, place in off[:count] if apart <= _FITS)


def _are_apart(paper: Paper, other: Paper) -> bool:
    return paper.id != other.id and difference(paper.colour, other.colour) >= TELLS_APART


def _off(paper: Paper, colour: Lab) -> float:
    """Return how far a paper is from a colour; infinite for another hue, and where one alone is coloured."""
    own = lab_of(paper.colour)
    (chroma, hue), (wanted_chroma, wanted_hue) = _polar(own), _polar(colour)
    if wanted_chroma >= _COLOURED_CHROMA:
        turn = abs(hue - wanted_hue) % 360.0
        if chroma < _GREY_CHROMA or min(turn, 360.0 - turn) > _ONE_HUE:
            return math.inf
    elif wanted_chroma < _GREY_CHROMA and chroma > 2 * _COLOURED_CHROMA:
        return math.inf
    return lab_difference(own, colour)


def _lab(lightness: float, chroma: float, hue_deg: float) -> Lab:
    turn = math.radians(hue_deg)
    return lightness, chroma * math.cos(turn), chroma * math.sin(turn)


def _polar(colour: Lab) -> tuple[float, float]:
    return math.hypot(colour[1], colour[2]), math.degrees(math.atan2(colour[2], colour[1]))


def _within(lightness: float) -> float:
    return min(_LIGHTEST, max(_DARKEST, lightness))
