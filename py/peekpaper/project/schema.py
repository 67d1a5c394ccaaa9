"""The JSON Schema of the project document, made from the dataclasses that it holds.

`python -m peekpaper.project.schema` prints what `project.schema.json` must hold.
"""

import dataclasses
import types
from collections.abc import Mapping
from enum import StrEnum
from typing import Annotated, Any, get_args, get_origin

from peekpaper.bounds import Count, Letters, Within
from peekpaper.project.codec import Json, dataclass_fields, encode, kind_name
from peekpaper.project.document import FORMAT, LAYOUT
from peekpaper.project.json_text import write_json
from peekpaper.project.migrate import VERSION
from peekpaper.project.project import Project

_SCALARS: Mapping[Any, str] = {bool: "boolean", int: "integer", float: "number", str: "string"}


def project_schema() -> dict[str, Json]:
    """Return the JSON Schema (draft 2020-12) of the project document's newest version."""
    definitions: dict[str, Json] = {}
    project = _object_schema(Project, definitions)
    envelope: dict[str, Json] = {"format": {"const": FORMAT}, "version": {"const": VERSION}}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Peekpaper project",
        **project,
        "required": [*envelope, *_required(Project)],
        "properties": {**envelope, LAYOUT: {}, **_properties(Project, definitions)},
        "$defs": definitions,
    }


def _schema(kind: Any, definitions: dict[str, Json]) -> dict[str, Json]:
    parts = get_args(kind)
    if get_origin(kind) is Annotated:
        return {**_schema(parts[0], definitions), **_bounds(parts[1], parts[0])}
    if parts:
        return _schema_of_parts(get_origin(kind), parts, definitions)
    if kind is types.NoneType:
        return {"type": "null"}
    if dataclasses.is_dataclass(kind):
        return _reference(kind, definitions)
    if issubclass(kind, StrEnum):
        return {"enum": [member.value for member in kind]}
    return {"type": _SCALARS[kind]}


def _schema_of_parts(origin: Any, parts: tuple[Any, ...], definitions: dict[str, Json]) -> dict[str, Json]:
    if origin is Mapping:
        return {
            "type": "object",
            "propertyNames": {"pattern": "^(0|-?[1-9][0-9]{0,17})$"},
            "additionalProperties": _schema(parts[1], definitions),
        }
    if parts[-1] is Ellipsis:
        return {"type": "array", "items": _schema(parts[0], definitions)}
    schemas: list[Json] = [_schema(part, definitions) for part in parts]
    if origin is tuple:
        return {"type": "array", "prefixItems": schemas, "items": False, "minItems": len(parts)}
    return {"anyOf": schemas}


def _bounds(bound: Within | Count | Letters, kind: Any) -> dict[str, Json]:
    match bound:
        case Within():
            return {"minimum": bound.least, "maximum": bound.most}
        case Letters():
            return {"maxLength": bound.most}
        case Count() if get_origin(kind) is Mapping:
            return {"maxProperties": bound.most}
        case Count():
            return {"minItems": bound.least, "maxItems": bound.most}


def _reference(kind: Any, definitions: dict[str, Json]) -> dict[str, Json]:
    name = kind.__name__
    if name not in definitions:
        definitions[name] = _object_schema(kind, definitions)
    return {"$ref": f"#/$defs/{name}"}


def _object_schema(kind: Any, definitions: dict[str, Json]) -> dict[str, Json]:
    return {
        "description": kind.__doc__.partition("\n")[0],
        "type": "object",
        "additionalProperties": False,
        "required": [*_kind(kind), *_required(kind)],
        "properties": {**_kind(kind), **_properties(kind, definitions)},
    }


def _kind(kind: Any) -> dict[str, Json]:
    """Return the part by which a dataclass is told from others that may stand in its place."""
    name = kind_name(kind)
    return {} if name is None else {"kind": {"const": name}}


def _required(kind: Any) -> list[Json]:
    return [name for name, field in dataclass_fields(kind).items() if field.required]


def _properties(kind: Any, definitions: dict[str, Json]) -> dict[str, Json]:
    defaults = {
        field.name: field.default
        for field in dataclasses.fields(kind)
        if field.default is not dataclasses.MISSING
    }
    properties: dict[str, Json] = {}
    for name, field in dataclass_fields(kind).items():
        default: dict[str, Json] = {"default": encode(defaults[name])} if name in defaults else {}
        properties[name] = {**_schema(field.kind, definitions), **default}
    return properties


if __name__ == "__main__":
    print(write_json(project_schema()))
