"""The project document: what the person decided, and nothing that can be computed again."""

from dataclasses import dataclass, field
from typing import Annotated

from peekpaper.backing.backing import BackingChoices
from peekpaper.bounds import (
    MAX_BYTES,
    Degrees,
    Few,
    Letters,
    Many,
    Millimetres,
    Name,
    Number,
    Share,
    Tag,
    Within,
    Writing,
    Zoom,
)
from peekpaper.design.design import LEAST_ALIKE, Limits, Reading
from peekpaper.design.mending.mends import Mends
from peekpaper.design.motifs.motif import Motif
from peekpaper.papers.paper import Colourway, Shelf
from peekpaper.plan.plan import Cut, CutSpeed, PlanChoices
from peekpaper.units import FOOT_MM


@dataclass(frozen=True, slots=True)
class Source:
    """The design file as text (decoded, decompressed) and the name it came by."""

    name: Name
    svg: Annotated[str, Letters(MAX_BYTES)]


@dataclass(frozen=True, slots=True)
class Look:
    """Colours of the front view: the card, and what lies behind the whole piece."""

    card_colour: Tag = "#2f3b4a"
    behind_colour: Tag = "#f3ede2"


@dataclass(frozen=True, slots=True)
class Block:
    """Something laid on the page beside the piece: "photo", "title", "writing" or the "piece" itself.

    `x_mm`, `y_mm` is the centre, `turn_deg` clockwise; blocks later in the list lie in front.
    `mat_mm` is the border of a photo mat around a photo of `width_mm` by `height_mm`. Its picture fills that,
    `picture_zoom` times as large as it must be; `picture_x` and `picture_y` say which part is seen, -1 to 1
    from its left and top to its right and bottom. `ink` is the id of the paper whose colour words have;
    `face` is their typeface, "hand", "serif" or "round", else the page's own.
    """

    kind: Tag
    x_mm: Millimetres
    y_mm: Millimetres
    width_mm: Millimetres
    height_mm: Millimetres
    turn_deg: Degrees = 0.0
    mat_mm: Millimetres = 0.0
    text: Writing = ""
    picture: Tag | None = None
    picture_x: Share = 0.0
    picture_y: Share = 0.0
    picture_zoom: Zoom = 1.0
    ink: Tag | None = None
    face: Tag | None = None


@dataclass(frozen=True, slots=True)
class PageLayout:
    """The finished piece on its page: size in mm, the background paper's id, and the blocks back to front."""

    width_mm: Millimetres = FOOT_MM
    height_mm: Millimetres = FOOT_MM
    background: Tag | None = None
    blocks: Few[Block] = ()


@dataclass(frozen=True, slots=True)
class Project:
    """One design and every decision on it; what opens again on another day or another computer.

    `colourway` is the id of the chosen one of `colourways`. `ticked` numbers the pieces already glued,
    `ticked_bits` the loose bits. `units` is "in" or "mm", for what a person types and reads.
    `cuts` tells which colourways were cut. `likeness` is how alike openings must be to be given the same
    paper, from 0, exactly (see `design.openings.likeness`); None leaves it to the design. `motifs` are those
    that the person named or changed; all others are found. `glue_by_motif` has one motif glued after another.
    """

    id: Tag
    name: Name
    source: Source
    reading: Reading = field(default_factory=Reading)
    mends: Mends = ()
    limits: Limits = field(default_factory=Limits)
    backing: BackingChoices = field(default_factory=BackingChoices)
    shelf: Shelf = field(default_factory=Shelf)
    colourways: Few[Colourway] = ()
    colourway: Tag = ""
    plan: PlanChoices = field(default_factory=PlanChoices)
    speed: CutSpeed = field(default_factory=CutSpeed)
    ticked: Many[Number] = ()
    ticked_bits: Many[Number] = ()
    look: Look = field(default_factory=Look)
    page: PageLayout = field(default_factory=PageLayout)
    units: Tag = "in"
    cuts: Few[Cut] = ()
    likeness: Annotated[int, Within(0, LEAST_ALIKE)] | None = None
    motifs: Few[Motif] = ()
    glue_by_motif: bool = False
