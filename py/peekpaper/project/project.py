"""The project document: what the person decided, and nothing that can be computed again."""

from dataclasses import dataclass, field

from peekpaper.backing.backing import BackingChoices
from peekpaper.design.design import Limits, Reading
from peekpaper.design.mending.mends import Mends
from peekpaper.papers.paper import Colourway, Shelf
from peekpaper.plan.plan import CutSpeed, PlanChoices


@dataclass(frozen=True, slots=True)
class Source:
    """The design file as text (decoded, decompressed) and the name it came by."""

    name: str
    svg: str


@dataclass(frozen=True, slots=True)
class Look:
    """Colours of the front view: the card, and what lies behind the whole piece."""

    card_colour: str = "#2f3b4a"
    behind_colour: str = "#f3ede2"


@dataclass(frozen=True, slots=True)
class Block:
    """Something laid on the page beside the piece: "photo", "title", "writing" or the "piece" itself.

    `x_mm`, `y_mm` is the centre, `turn_deg` clockwise; blocks later in the list lie in front.
    `mat_mm` is the border of a photo mat around a photo of `width_mm` by `height_mm`.
    """

    kind: str
    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    turn_deg: float = 0.0
    mat_mm: float = 0.0
    text: str = ""
    picture: str | None = None


@dataclass(frozen=True, slots=True)
class PageLayout:
    """The finished piece on its page: size in mm, the background paper's id, and the blocks back to front."""

    width_mm: float = 304.8
    height_mm: float = 304.8
    background: str | None = None
    blocks: tuple[Block, ...] = ()


@dataclass(frozen=True, slots=True)
class Project:
    """One design and every decision on it; what opens again on another day or another computer.

    `colourway` is the id of the chosen one of `colourways`. `ticked` numbers the pieces already glued,
    `ticked_bits` the loose bits. `units` is "in" or "mm", for what a person types and reads.
    """

    id: str
    name: str
    source: Source
    reading: Reading = field(default_factory=Reading)
    mends: Mends = ()
    limits: Limits = field(default_factory=Limits)
    backing: BackingChoices = field(default_factory=BackingChoices)
    shelf: Shelf = field(default_factory=Shelf)
    colourways: tuple[Colourway, ...] = ()
    colourway: str = ""
    plan: PlanChoices = field(default_factory=PlanChoices)
    speed: CutSpeed = field(default_factory=CutSpeed)
    ticked: tuple[int, ...] = ()
    ticked_bits: tuple[int, ...] = ()
    look: Look = field(default_factory=Look)
    page: PageLayout = field(default_factory=PageLayout)
    units: str = "in"
