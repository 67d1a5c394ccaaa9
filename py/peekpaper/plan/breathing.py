"""Work in slices: generators that pause every few hundredths of a second and return a value in the end."""

from collections.abc import Generator
from typing import TypeAlias, TypeVar

Value = TypeVar("Value")

Breathing: TypeAlias = Generator[None, None, Value]
"""Work that yields to let the caller breathe or stop, and returns a value."""
