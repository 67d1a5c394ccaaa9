"""What a machine is to cut of one sheet, before it is written in any format."""

from dataclasses import dataclass

from peekpaper.geometry.outline import Floats, Outline
from peekpaper.sheets.sheet_file import Purpose


@dataclass(frozen=True, slots=True)
class Cut:
    """One closed cut, with a name that is unique on its sheet ("piece-12")."""

    name: str
    outline: Outline


@dataclass(frozen=True, slots=True)
class CutGroup:
    """Cuts that belong together, a trim as a rule: a name for machines and a label for people."""

    name: str
    label: str
    cuts: tuple[Cut, ...]


@dataclass(frozen=True, slots=True, eq=False)
class CutSheet:
    """A sheet in mm, y down: groups of cuts in the order of cutting.

    `purpose` tells which sheet it is. `guides` are polylines of shape (k, 2) that are drawn or looked at,
    never cut; `size_check` is the side of the square in the group "size-check" (None: there is none).
    """

    name: str
    title: str
    width_mm: float
    height_mm: float
    purpose: Purpose
    groups: tuple[CutGroup, ...]
    guides: tuple[Floats, ...] = ()
    size_check: CutGroup | None = None
