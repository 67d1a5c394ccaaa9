"""What is to be told to a person, as a value: its words stand in `words/`, once for each language."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, TypeAlias

Figure: TypeAlias = "int | float | str | Message | tuple[Figure, ...]"


@dataclass(frozen=True, slots=True)
class Message:
    """A sentence or name by the key of its words, and what they fill in, by name.

    A figure under a name that ends in `_mm` is a length and fills the place without that end: `limit_mm` goes
    into `{limit}`. One in `_least_mm` is rounded up to what a ruler has, one in `_most_mm` down; `_mm2` are
    areas. `count` chooses among plural forms. Whole numbers in a tuple are written as runs (3, 5 and 7–12),
    texts as a list; messages are worded in the same language.
    """

    key: str
    figures: Mapping[str, Figure] = field(default_factory=dict)

    def told(self) -> dict[str, Any]:
        """Return the message as a JSON value, `{"key", "figures"}`, and so those in it."""
        return {"key": self.key, "figures": {name: _told(figure) for name, figure in self.figures.items()}}


def message(key: str, /, **figures: Figure) -> Message:
    """Return the message of `key` with its figures."""
    return Message(key, figures)


def _told(figure: Figure) -> Any:
    if isinstance(figure, Message):
        return figure.told()
    if isinstance(figure, tuple):
        return [_told(part) for part in figure]
    return figure
