"""Spoiling good input in ways that files and links get spoilt, and in ways that spite would."""

import copy
from collections.abc import Iterator
from random import Random
from typing import Any

ODD: tuple[Any, ...] = (
    None, True, False, 0, -1, 1, 7, 10**400, -(2**63), 0.0, -0.0, 1e-300, 1e300, 0.1, "", " ", "p1", "\ud800",
    "\x00", "#ffffff", "any", "<svg/>", "9" * 5000, [], {}, [[]], [1, 2], {"1": "p1"}, {"": ""}, [[[[[[]]]]]],
)  # fmt: skip
"""Values that a part of a document might be given instead of its own."""


def mangled_text(text: str, chance: Random) -> str:
    """Return the text with one to four spots cut, doubled, swapped, overwritten or mixed up."""
    for _ in range(chance.randint(1, 4)):
        start = chance.randint(0, len(text))
        end = min(len(text), start + chance.choice((0, 1, 1, 2, 8, 64, 1024)))
        text = chance.choice(
            (
                text[:start],
                text[start:],
                text[:start] + text[end:],
                text[:start] + text[start:end] * chance.randint(2, 5) + text[end:],
                text[:start] + text[start:end][::-1] + text[end:],
                text[:start]
                + "".join(chance.choice('{}[]",:0-9e.\\\x00é\ud800') for _ in range(3))
                + text[end:],
            )
        )
    return text


def mangled_json(document: object, chance: Random) -> object:
    """Return a copy of a JSON value with one to three of its parts replaced, dropped, doubled or added."""
    document = copy.deepcopy(document)
    for _ in range(chance.randint(1, 3)):
        places = list(_places(document))
        holder, key = chance.choice(places)
        deed = chance.randrange(5)
        if deed == 0:
            del holder[key]
        elif deed == 1 and isinstance(holder, list):
            holder.insert(key, copy.deepcopy(holder[key]))
        elif deed == 2 and isinstance(holder, dict):
            holder[chance.choice(("extra", "", "1", "papers", "version", "id"))] = chance.choice(ODD)
        elif deed == 3:
            holder[key] = copy.deepcopy(chance.choice(places)[0])
        else:
            holder[key] = copy.deepcopy(chance.choice(ODD))
        if not list(_places(document)):
            break
    return document


def _places(value: object) -> Iterator[tuple[Any, Any]]:
    """Yield every holder and key of a JSON value, from the outside in."""
    if isinstance(value, dict | list):
        for key in list(value) if isinstance(value, dict) else range(len(value)):
            yield value, key
            yield from _places(value[key])
