"""The glue-up guide on paper: the steps in order, and the design from the back and from the front."""

from collections.abc import Callable, Iterator
from dataclasses import replace

from peekpaper.design.division.division import Joint
from peekpaper.geometry.outline import rectangle
from peekpaper.gluing.glue_up import GlueGroup, GlueStep
from peekpaper.refusal import Refusal
from peekpaper.sheets.choices import SheetChoices
from peekpaper.sheets.narrow_lips import narrow_lip_sentences
from peekpaper.sheets.pages.cautions import FOR_GLUING
from peekpaper.sheets.pages.page import (
    HEADING,
    LEADING,
    SMALL,
    TEXT,
    Leaf,
    TypeArea,
    pages,
    paragraph,
    rule,
    type_area,
)
from peekpaper.sheets.pages.qr import qr_code
from peekpaper.sheets.paper_names import paper_letters, used_papers
from peekpaper.sheets.picture import views
from peekpaper.sheets.picture.colours import ALERT, INK, PALE_INK
from peekpaper.sheets.picture.fills import Fill, fills
from peekpaper.sheets.picture.picture import Anchor, Area, Mark, Picture, Stroke, Words, moved_mark, placed
from peekpaper.sheets.picture.typeface import shortened, text_width, wrapped
from peekpaper.sheets.work import Work
from peekpaper.words.words import Language

_BOX_MM = 3.6
"""The box to tick: large enough for a pen (from memory)."""
_STEP_MM = 15.5
"""The width of a step: its box and a number of three digits."""
_ROW_MM = 7.0
"""From one row of steps to the next."""
_MODULE_MM = 0.45
"""A module of the printed code: coarse enough for the camera of a tablet (from memory)."""

_SEAM_MM = 0.02
"""How far rows of modules overlap, so that no light line shows between them on screen."""

_STEPS = ("print.glue-lay", "print.glue-rows", "print.glue-alike")
"""How to go about it: keys of its words."""

View = Callable[[Work, float], Picture]


def glue_pages(work: Work, choices: SheetChoices) -> list[Picture]:
    """Return the pages of the guide."""
    say = work.words.text
    back, front = say("print.from-back-note"), say("print.from-front-note")
    leaves = [
        *_step_leaves(work, choices),
        *_parts_leaf(work, choices),
        _view_leaf(work, choices, views.back_view, say("print.from-back"), back),
        _view_leaf(work, choices, views.front_view, say("print.from-front"), front),
    ]
    if work.design.loose_bits:
        note = say("print.loose-bits-note")
        leaves.append(_view_leaf(work, choices, views.bits_view, say("print.loose-bits"), note))
    title = say("print.document-glue-up", name=work.project.name)
    return pages(title, leaves, choices.paper_size, work.words)


def _parts_leaf(work: Work, choices: SheetChoices) -> Iterator[Leaf]:
    """Yield where the parts of a card that is cut in several go."""
    if work.design.division is not None:
        say = work.words.text
        yield _view_leaf(work, choices, views.parts_view, say("print.parts"), say("print.parts-note"))


def _view_leaf(work: Work, choices: SheetChoices, view: View, title: str, note: str) -> Leaf:
    """Return a view as large as fits the page, at most at true size, sideways where it then gets larger."""
    design = work.design
    rim = 2 * views.RIM_MM

    def scale_on(free: TypeArea) -> float:
        return min(1.0, (free.width - rim) / design.width_mm, (free.height - rim) / design.height_mm)

    upright, lying = (scale_on(type_area(choices.paper_size, sideways)) for sideways in (False, True))
    scale, sideways = max(upright, lying), lying > upright
    free = type_area(choices.paper_size, sideways)
    picture = view(work, scale)
    x = free.x + (free.width - picture.width_mm) / 2
    say = work.words.text
    size = say("print.true-size") if scale == 1 else say("print.of-true-size", percent=round(100 * scale))
    return Leaf(title, f"{note} {size}", placed(picture, x, free.y, 1.0), sideways)


def _step_leaves(work: Work, choices: SheetChoices) -> list[Leaf]:
    """Return the steps, group after group, with a box to tick at each piece."""
    free = type_area(choices.paper_size)
    letters = paper_letters(work)
    papers = {paper.id: paper for paper in used_papers(work)}
    shown = fills(work)
    sheet, y = _introduction(work, choices, free)
    sheets = [sheet]
    names = {id: f"{letters[id]}  {paper.name}" for id, paper in papers.items()}
    blocks = [
        *_joining(work, free.width),
        *(
            block
            for group in work.gluing
            for block in _blocks(group, names[group.paper], shown[group.paper], free, work.words)
        ),
    ]
    if work.whole_back is not None:
        id = work.whole_back.paper
        blocks.append(_whole_back(names[id], shown[id], free.width, work.words))
    blocks += _loose_bits(work, free)
    for marks, height in blocks:
        if y + height > free.y + free.height and y > free.y:
            sheets.append([])
            y = free.y
        sheets[-1] += [moved_mark(mark, free.x, y) for mark in marks]
        y += height
    title, note = work.words.text("print.glue-up"), work.words.text("print.glue-up-note")
    return [Leaf(title, note, tuple(marks)) for marks in sheets]


def _introduction(work: Work, choices: SheetChoices, free: TypeArea) -> tuple[list[Mark], float]:
    """Return what won't hold, how to go about it, cautions and the link's code, and the y below them."""
    marks, code_width, code_foot = _code(choices.link, free, work.words)
    y = free.y
    width = min(free.width - code_width, 165)
    narrow = narrow_lip_sentences(work)
    for text in [*narrow, work.words.text("print.where-narrow")] if narrow else []:
        for line in wrapped(text, TEXT, width, bold=True):
            marks.append(Words(line, free.x, y + TEXT * LEADING / 2, TEXT, ALERT, bold=True))
            y += TEXT * LEADING
        y += TEXT * 0.8
    for key in (*_STEPS, *FOR_GLUING):
        lines, y = paragraph(work.words.text(key), free.x, y, width)
        marks += lines
        y += TEXT * 0.8
    return marks, max(y, code_foot) + 6


def _code(link: str | None, free: TypeArea, words: Language) -> tuple[list[Mark], float, float]:
    """Return the code in the upper right corner, the width that it takes up and the y below it."""
    if not link:
        return [], 0.0, free.y
    try:
        code = qr_code(link)
    except Refusal:
        return [], 0.0, free.y
    side = code.size * _MODULE_MM
    left = free.x + free.width - side
    rings = tuple(
        rectangle(left + x * _MODULE_MM, free.y + y * _MODULE_MM, length * _MODULE_MM, _MODULE_MM + _SEAM_MM)
        for x, y, length in code.runs()
    )
    middle = left + side / 2
    label = Words(words.text("print.link-code"), middle, free.y + side, SMALL, PALE_INK, Anchor.MIDDLE)
    return [Area(rings, "#000000"), label], side + 6, free.y + side + SMALL * LEADING


def _blocks(
    group: GlueGroup, name: str, fill: Fill, free: TypeArea, words: Language
) -> list[tuple[list[Mark], float]]:
    """Return one paper's steps in one band, in halves where they are higher than a page, and heights."""
    marks, height = _group(group, name, fill, free.width, words)
    columns = int(free.width // _STEP_MM)
    rows = -(-len(group.steps) // columns)
    if height <= free.height or rows == 1:
        return [(marks, height)]
    half = columns * -(-rows // 2)
    halves = (replace(group, steps=steps) for steps in (group.steps[:half], group.steps[half:]))
    return [block for part in halves for block in _blocks(part, name, fill, free, words)]


def _group(
    group: GlueGroup, name: str, fill: Fill, width: float, words: Language
) -> tuple[list[Mark], float]:
    """Return one paper's steps in one band from (0, 0) on, and their height."""
    marks, y = _heading(name, fill, _motif(group, words) or _band(group, words), width)
    columns = int(width // _STEP_MM)
    for index, step in enumerate(group.steps):
        row, column = divmod(index, columns)
        marks += _step(step, column * _STEP_MM, y + row * _ROW_MM)
    y += -(-len(group.steps) // columns) * _ROW_MM
    for line in wrapped(_alike(group, words), SMALL, width):
        marks.append(Words(line, 0, y + SMALL * 0.6, SMALL, PALE_INK))
        y += SMALL * LEADING
    return [*marks, rule(0, y + 2, width)], y + 6


_JOINTS = {
    Joint.TAB: ("print.first-of-all", "print.join-tabs"),
    Joint.EDGE: ("print.with-back", "print.join-edges"),
}
"""When parts of the card are joined, and how: keys of the words."""


def _joining(work: Work, width: float) -> Iterator[tuple[list[Mark], float]]:
    """Yield the steps that join the parts of a card that is cut in several, and their height."""
    division, say = work.design.division, work.words.text
    if division is None:
        return
    when, how = _JOINTS[division.joint]
    marks, y = _heading(say("print.parts"), Fill(work.project.look.card_colour), say(when), width)
    columns = int(width // _STEP_MM)
    # The lowest lies on top: what lies beneath comes first.
    for index, part in enumerate(reversed(division.parts)):
        row, column = divmod(index, columns)
        marks += _box(str(part.number), column * _STEP_MM, y + row * _ROW_MM)
    y += -(-len(division.parts) // columns) * _ROW_MM
    for line in wrapped(say(how, first=len(division.parts)), SMALL, width):
        marks.append(Words(line, 0, y + SMALL * 0.6, SMALL, PALE_INK))
        y += SMALL * LEADING
    yield [*marks, rule(0, y + 2, width)], y + 6


def _whole_back(name: str, fill: Fill, width: float, words: Language) -> tuple[list[Mark], float]:
    """Return the step that glues the whole-back, and its height."""
    marks, y = _heading(name, fill, words.text("print.last-of-all"), width)
    marks += _box(words.text("print.glue-whole-back"), 0, y)
    return [*marks, rule(0, y + _ROW_MM + 2, width)], y + _ROW_MM + 6


def _loose_bits(work: Work, free: TypeArea) -> Iterator[tuple[list[Mark], float]]:
    """Yield the steps that glue the loose bits on, from the front and last of all, and heights."""
    rows = max(1, int((free.height - 3 * _ROW_MM - _BOX_MM) // _ROW_MM))
    columns = int(free.width // _STEP_MM)
    bits = work.design.loose_bits
    title, last = work.words.text("print.loose-bits"), work.words.text("print.turned-over-last")
    for first in range(0, len(bits), rows * columns):
        marks, y = _heading(title, Fill(work.project.look.card_colour), last, free.width)
        here = bits[first : first + rows * columns]
        for index, bit in enumerate(here):
            row, column = divmod(index, columns)
            marks += _box(bit.name, column * _STEP_MM, y + row * _ROW_MM)
        y += -(-len(here) // columns) * _ROW_MM
        for line in wrapped(work.words.text("print.glue-bits"), SMALL, free.width):
            marks.append(Words(line, 0, y + SMALL * 0.6, SMALL, PALE_INK))
            y += SMALL * LEADING
        yield [*marks, rule(0, y + 2, free.width)], y + 6


def _heading(name: str, fill: Fill, place: str, width: float) -> tuple[list[Mark], float]:
    """Return the name of a paper, how it looks and at the right which part is meant, and their height."""
    middle, left = _BOX_MM * 0.65, _BOX_MM * 1.3 + 2.5
    name_room = width - left - text_width(place, TEXT) - 5
    marks: list[Mark] = [
        *fill.swatch(0, 0, _BOX_MM * 1.3),
        Words(shortened(name, HEADING, name_room, bold=True), left, middle, HEADING, INK, bold=True),
        Words(place, width, middle, TEXT, PALE_INK, Anchor.END),
    ]
    return marks, _BOX_MM * 1.3 + 2.5


def _step(step: GlueStep, x: float, y: float) -> list[Mark]:
    return _box(f"{step.piece}*" if step.lets_set else str(step.piece), x, y)


def _box(text: str, x: float, y: float) -> list[Mark]:
    """Return a box to tick, and what is ticked off with it."""
    return [
        Stroke((rectangle(x, y, _BOX_MM, _BOX_MM),), INK, 0.2),
        Words(text, x + _BOX_MM + 1.6, y + _BOX_MM / 2, HEADING, INK),
    ]


_BANDS = {
    2: ("print.half-far", "print.half-near"),
    3: ("print.third-far", "print.third-middle", "print.third-near"),
}
"""What bands are called where there are few, by their number: keys of the words."""


def _motif(group: GlueGroup, words: Language) -> str:
    """Return what the motif of a group is called, empty where it is of none."""
    if group.motif is None:
        return ""
    return group.motif_name or words.text("print.motif", number=group.motif)


def _band(group: GlueGroup, words: Language) -> str:
    if group.bands == 1:
        return ""
    if group.bands in _BANDS:
        return words.text(_BANDS[group.bands][group.band - 1])
    return words.text("print.band", band=group.band, bands=group.bands)


def _alike(group: GlueGroup, words: Language) -> str:
    """Return the sets of interchangeable pieces among a group's steps in words, empty where there is none."""
    here = {step.piece for step in group.steps}
    sets = {tuple(sorted({step.piece, *step.interchangeable_with} & here)) for step in group.steps}
    alike = tuple(numbers for numbers in sorted(sets) if len(numbers) > 1)
    return words.text("print.alike", sets=alike) if alike else ""
