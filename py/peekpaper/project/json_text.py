"""JSON text that reads well and gives short differences: what fits a line stays on it."""

import json

from peekpaper.project.codec import Json

LINE = 100


def write_json(value: Json, indent: int = 0) -> str:
    """Return `value` as JSON text, two spaces a level; objects and lists stay on a line where they fit.

    Key order is kept, so that equal values give equal texts.
    """
    flat = json.dumps(value, ensure_ascii=False, allow_nan=False)
    if indent + len(flat) <= LINE or not value or not isinstance(value, list | dict):
        return flat
    inner = indent + 2
    if isinstance(value, list):
        lines = [write_json(item, inner) for item in value]
        return _block("[", lines, "]", indent)
    lines = [
        f"{json.dumps(key, ensure_ascii=False)}: {write_json(item, inner)}" for key, item in value.items()
    ]
    return _block("{", lines, "}", indent)


def _block(opening: str, lines: list[str], closing: str, indent: int) -> str:
    pad = " " * indent
    body = ",\n".join(f"{pad}  {line}" for line in lines)
    return f"{opening}\n{body}\n{pad}{closing}"


def read_json(text: str) -> object:
    """Return what the JSON `text` says. Raises ValueError for text that is no JSON in finite numbers."""
    try:
        return json.loads(text, parse_constant=_refuse_constant)
    except RecursionError:
        raise ValueError("nested too deeply") from None


def _refuse_constant(name: str) -> object:
    raise ValueError(f"{name} is no JSON number")
