"""What the sheets are made from: one project with everything that was computed of it."""

from dataclasses import dataclass

from peekpaper.backing.backing import Backing
from peekpaper.design.design import Design
from peekpaper.plan.plan import Plan
from peekpaper.project.project import Project
from peekpaper.sheets.glue_up import GlueGroup


@dataclass(frozen=True, slots=True)
class Work:
    """A project and its design, backing, plan and gluing order, which belong together."""

    project: Project
    design: Design
    backing: Backing
    plan: Plan
    gluing: tuple[GlueGroup, ...]
