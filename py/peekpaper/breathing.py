"""Work in slices: generators that pause every few hundredths of a second and return a value in the end."""

from collections.abc import Generator
from typing import TypeAlias, TypeVar

Value = TypeVar("Value")
Told = TypeVar("Told")

Breathing: TypeAlias = Generator[None, None, Value]
"""Work that yields to let the caller breathe or stop, and returns a value."""


def out_of_breath(work: Breathing[Value]) -> Value:
    """Return what work comes to, all at one go."""
    try:
        while True:
            next(work)
    except StopIteration as end:
        value: Value = end.value
        return value


def telling(work: Breathing[Value], told: Told) -> Generator[Told, None, Value]:
    """Yield the same at each breath of some work, and return what it comes to."""
    try:
        while True:
            next(work)
            yield told
    except StopIteration as end:
        value: Value = end.value
        return value
