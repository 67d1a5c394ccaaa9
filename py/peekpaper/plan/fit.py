"""A search for a close fit, whichever way it is done."""

from collections.abc import Iterator, Mapping
from typing import Protocol

from peekpaper.plan.shape import Pose


class Fit(Protocol):
    """A search that goes on round by round; `solution` holds the poses by index once it is found."""

    @property
    def solution(self) -> Mapping[int, Pose] | None:
        """The poses found."""
        ...

    @property
    def is_done(self) -> bool:
        """Whether a way was found, or none is left."""
        ...

    def round(self) -> Iterator[None]:
        """Work a little; yields to let the caller breathe."""
        ...
