"""Taking again what was made before from the same."""

from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from typing import Generic, TypeVar

Value = TypeVar("Value")


class Last(Generic[Value]):
    """The value that a step gave last, with what went into it."""

    def __init__(self) -> None:
        self._inputs: tuple[object, ...] | None = None
        self._value: Value

    def get(self, inputs: tuple[object, ...], make: Callable[[], Value]) -> Value:
        """Return the last value if the inputs are equal to the last ones, else make and keep a new one."""
        if self._inputs != inputs:
            self._value = make()
            self._inputs = inputs
        return self._value


def kept_or_made(
    keys: Sequence[Hashable], kept: Mapping[Hashable, Value], make: Callable[[list[int]], Iterable[Value]]
) -> dict[Hashable, Value]:
    """Return a value for each key, in order: the kept one, or what `make` gives for the key's place."""
    fresh = [place for place, key in enumerate(keys) if key not in kept]
    made = dict(zip((keys[place] for place in fresh), make(fresh), strict=True)) if fresh else {}
    return {key: made[key] if key in made else kept[key] for key in keys}
