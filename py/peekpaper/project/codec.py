"""Frozen dataclasses to JSON values and back, led by their type hints.

A field that the JSON lacks takes the field's default, so that dataclasses may grow fields with defaults and
still read what was written before. A key that the dataclass lacks is refused: reading on would lose it.
A dataclass among several that a value may be is told apart by `kind`, which each has as a class variable.
"""

import dataclasses
import math
import re
import types
from collections.abc import Callable, Mapping
from enum import StrEnum
from functools import lru_cache
from typing import Annotated, Any, TypeAlias, TypeVar, Union, get_args, get_origin, get_type_hints

from peekpaper.bounds import Count, Letters, Within
from peekpaper.message import Figure, Message
from peekpaper.project.part_names import part_name
from peekpaper.refusal import Worded

Json: TypeAlias = "bool | int | float | str | list[Json] | dict[str, Json] | None"

Value = TypeVar("Value")

_WHOLE_NUMBER = re.compile(r"0|-?[1-9][0-9]{0,17}")


class Mismatch(Worded):
    """A JSON value that is not what the type wants; the message names the place and says what is wrong."""

    def __init__(self, code: str, /, **figures: Figure) -> None:
        super().__init__(Message(f"mismatch.{code}", figures))


class UnknownPart(Mismatch):
    """A part of a JSON object that the type does not have."""


class OutOfBounds(Mismatch):
    """A part that is larger, longer or more than any project needs; the message names it."""


def encode(value: object) -> Json:
    """Return `value`, made of dataclasses, enums, tuples, sets, mappings and scalars, as a JSON value.

    Fields keep the dataclass's order, mappings and sets are sorted. Raises ValueError for a number that is
    not finite and TypeError for a type that the codec does not know.
    """
    if isinstance(value, StrEnum):
        return value.value
    if value is None or isinstance(value, bool | int | str):
        return value
    if isinstance(value, float):
        if not math.isfinite(value):
            raise ValueError(f"{value} can't be written as JSON")
        return value
    if isinstance(value, frozenset):
        value = tuple(sorted(value))
    if isinstance(value, tuple):
        return [encode(item) for item in value]
    if isinstance(value, Mapping):
        return {str(key): encode(value[key]) for key in sorted(value)}
    if dataclasses.is_dataclass(value):
        kind = kind_name(type(value))
        told: dict[str, Json] = {} if kind is None else {"kind": kind}
        return told | {field.name: encode(getattr(value, field.name)) for field in dataclasses.fields(value)}
    raise TypeError(f"{type(value).__name__} can't be written as JSON")


def decode(kind: type[Value], value: object, place: str = "") -> Value:
    """Return the JSON `value` as a `kind`: a dataclass, or any type that `encode` knows.

    `place` names the value in messages ("plan.spacing_mm"). Raises Mismatch where the value does not fit.
    """
    return _decode(kind, value, place)  # type: ignore[no-any-return]


def _decode(kind: Any, value: object, place: str) -> Any:
    of_parts = _BY_ORIGIN.get(get_origin(kind))
    if of_parts is not None:
        return of_parts(get_args(kind), value, place)
    if dataclasses.is_dataclass(kind):
        return _decode_dataclass(kind, value, place)
    if isinstance(kind, type) and issubclass(kind, StrEnum):
        return _decode_enum(kind, value, place)
    return _decode_scalar(kind, value, place)


def _decode_one_of(parts: tuple[Any, ...], value: object, place: str) -> Any:
    if value is None and types.NoneType in parts:
        return None
    wanted = [part for part in parts if part is not types.NoneType]
    if len(wanted) == 1:
        return _decode(wanted[0], value, place)
    named = value.get("kind") if isinstance(value, dict) else None
    for part in wanted:
        if isinstance(value, dict) and kind_name(part) == named:
            return _decode(part, {key: item for key, item in value.items() if key != "kind"}, place)
    raise UnknownPart("unknown-kind", place=place)


def _decode_bounded(parts: tuple[Any, ...], value: object, place: str) -> Any:
    bare, bound = parts
    match bound:
        # Before any of the items is looked at, so that no list takes long to refuse.
        case Count() if isinstance(value, list | dict) and len(value) > bound.most:
            raise OutOfBounds("too-many", part=part_name(place), most=bound.most)
        case Count() if isinstance(value, list) and len(value) < bound.least:
            raise OutOfBounds("too-few", part=part_name(place), least=bound.least)
        case Letters() if isinstance(value, str) and len(value) > bound.most:
            raise OutOfBounds("too-long", part=part_name(place), most=bound.most)
    decoded = _decode(bare, value, place)
    if isinstance(bound, Within) and not bound.least <= decoded <= bound.most:
        raise OutOfBounds("out-of-bounds", part=part_name(place), least=bound.least, most=bound.most)
    return decoded


def _decode_tuple(parts: tuple[Any, ...], value: object, place: str) -> tuple[Any, ...]:
    if not isinstance(value, list):
        raise Mismatch("no-list", place=place)
    if len(parts) == 2 and parts[1] is Ellipsis:
        return tuple(_decode(parts[0], item, f"{place}[{index}]") for index, item in enumerate(value))
    if len(parts) != len(value):
        raise Mismatch("no-list-of", place=place, length=len(parts))
    pairs = enumerate(zip(parts, value, strict=True))
    return tuple(_decode(part, item, f"{place}[{index}]") for index, (part, item) in pairs)


def _decode_set(parts: tuple[Any, ...], value: object, place: str) -> frozenset[Any]:
    return frozenset(_decode_tuple((*parts, Ellipsis), value, place))


def _decode_mapping(parts: tuple[Any, ...], value: object, place: str) -> dict[Any, Any]:
    if not isinstance(value, dict):
        raise Mismatch("no-mapping", place=place)
    key_kind, item_kind = parts
    return {
        _decode_key(key_kind, key, place): _decode(item_kind, item, f"{place}.{key}")
        for key, item in value.items()
    }


def _decode_key(kind: Any, key: str, place: str) -> Any:
    if kind is int:
        if not _WHOLE_NUMBER.fullmatch(key):
            raise Mismatch("no-whole-keys", place=place)
        return int(key)
    return _decode_scalar(kind, key, place)


_BY_ORIGIN: Mapping[Any, Callable[[tuple[Any, ...], object, str], Any]] = {
    Union: _decode_one_of,
    types.UnionType: _decode_one_of,
    Annotated: _decode_bounded,
    tuple: _decode_tuple,
    frozenset: _decode_set,
    Mapping: _decode_mapping,
}


def _decode_dataclass(kind: Any, value: object, place: str) -> Any:
    if not isinstance(value, dict):
        raise Mismatch("no-object", place=place) if place else Mismatch("not-an-object")
    prefix = f"{place}." if place else ""
    fields = dataclass_fields(kind)
    for key in value:
        if key not in fields:
            shown = key[:40].encode(errors="replace").decode()
            raise UnknownPart("unknown-part", place=prefix + shown)
    for name, field in fields.items():
        if name not in value and field.required:
            raise Mismatch("missing", place=prefix + name)
    return kind(**{name: _decode(fields[name].kind, item, prefix + name) for name, item in value.items()})


def _decode_enum(kind: type[StrEnum], value: object, place: str) -> StrEnum:
    for member in kind:
        if member.value == value:
            return member
    raise Mismatch("none-of", place=place, choices=", ".join(kind))


def _decode_scalar(kind: Any, value: object, place: str) -> Any:
    if kind is bool:
        if isinstance(value, bool):
            return value
        raise Mismatch("no-truth", place=place)
    if kind is int:
        if isinstance(value, int) and not isinstance(value, bool):
            return value
        raise Mismatch("no-whole-number", place=place)
    if kind is float:
        return _decode_float(value, place)
    if kind is str:
        return _decode_text(value, place)
    raise TypeError(f"{kind} can't be read from JSON")


def _decode_float(value: object, place: str) -> float:
    if isinstance(value, int | float) and not isinstance(value, bool):
        try:
            number = float(value)
        except OverflowError:
            number = math.inf
        if math.isfinite(number):
            return number
    raise Mismatch("no-number", place=place)


def _decode_text(value: object, place: str) -> str:
    if not isinstance(value, str):
        raise Mismatch("no-text", place=place)
    try:
        value.encode()
    except UnicodeEncodeError:
        raise Mismatch("broken-characters", place=place) from None
    return value


def kind_name(kind: type) -> str | None:
    """Return what tells a dataclass from others that may stand in its place; None where it stands alone."""
    name = getattr(kind, "kind", None)
    return name if isinstance(name, str) else None


@dataclasses.dataclass(frozen=True, slots=True)
class FieldKind:
    """What a dataclass's field holds (`kind`, a type), and whether JSON must give it."""

    kind: Any
    required: bool


@lru_cache(maxsize=256)
def dataclass_fields(kind: Any) -> dict[str, FieldKind]:
    """Return the fields of a dataclass by name, in their order, with resolved type hints."""
    hints = get_type_hints(kind, include_extras=True)
    missing = dataclasses.MISSING
    return {
        field.name: FieldKind(
            hints[field.name], field.default is missing and field.default_factory is missing
        )
        for field in dataclasses.fields(kind)
    }
