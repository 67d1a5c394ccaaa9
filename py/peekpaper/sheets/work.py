"""What the sheets are made from: one project with everything that was computed of it."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from shapely import MultiPolygon

from peekpaper.backing.backing import Backing
from peekpaper.design.design import Design
from peekpaper.gluing.glue_up import GlueGroup
from peekpaper.plan.plan import Plan
from peekpaper.project.project import Project
from peekpaper.sheets.picture.raster import Raster
from peekpaper.words.words import Language


@dataclass(frozen=True, slots=True, eq=False)
class WholeBackSheet:
    """The sheet behind the whole design: its paper's id and its area in design mm, never empty."""

    paper: str
    area: MultiPolygon


@dataclass(frozen=True, slots=True, eq=False)
class PrintedPattern:
    """What a paper's pattern is printed from: a picture of one repeat, and how wide that really is."""

    raster: Raster
    width_mm: float


@dataclass(frozen=True, slots=True, eq=False)
class Look:
    """How a paper looks, coarsely: a JPEG of one repeat, its pixels (h, w, 3) and how wide it really is."""

    raster: Raster
    pixels: NDArray[np.uint8]
    width_mm: float


@dataclass(frozen=True, slots=True)
class Work:
    """A project and its design, backing, plan and gluing order, which belong together, and the words for it.

    `patterns` are those of papers that are printed, by paper id; a paper without one is printed plain.
    `looks` are what papers look like in pictures; one without shows its colour.
    """

    project: Project
    design: Design
    backing: Backing
    plan: Plan
    gluing: tuple[GlueGroup, ...]
    words: Language
    patterns: Mapping[str, PrintedPattern] = field(default_factory=dict)
    looks: Mapping[str, Look] = field(default_factory=dict)

    @property
    def whole_back(self) -> WholeBackSheet | None:
        """The whole-back, None where none is wanted or its edge margin leaves nothing of it."""
        wanted, area = self.project.backing.whole_back, self.backing.whole_back
        if wanted is None or area is None or area.is_empty:
            return None
        return WholeBackSheet(wanted.paper, area)
