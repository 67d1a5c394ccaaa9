"""Spoiling SVG files: bytes, numbers, names, elements and their nesting."""

import re
from random import Random

ODD_VALUES = (
    "", "0", "-1", "1e999", "-1e300", "1e-300", "NaN", "none", "inherit", "50%", "-5mm", "3ch", "url(#a)",
    "#a", "url(#", "var(--a)", "currentColor", "M0 0", "M0 0L", "A1 1 0 0 1 9 9", "0 0 0 0",
    "scale(0)", "rotate(1e9)", "matrix(1 2 3",
    "evenodd", "visible", "5 -5", "0,0", ")", "((((", "\x00", "\ud800", "é", "9" * 400,
)  # fmt: skip
NAMES = (
    "svg", "g", "path", "rect", "circle", "use", "symbol", "clipPath", "mask", "marker", "pattern", "defs",
    "style", "linearGradient", "stop", "switch", "text", "image", "a", "polygon", "line", "filter", "script",
)  # fmt: skip
_ATTRIBUTE = re.compile(r'([\w:-]+)="([^"<]*)"')
_NUMBER = re.compile(r"-?\d+\.?\d*")
_TAG = re.compile(r"<(/?)(\w+)")
_ELEMENT = re.compile(r"<(\w+)[^<>]*/>")


def mangled_svg(text: str, chance: Random) -> bytes:
    """Return the file with one to four parts spoilt, and now and then in another encoding or cut short."""
    deeds = (_other_value, _other_number, _other_name, _doubled, _dropped, _swapped_attribute)
    for _ in range(chance.randint(1, 4)):
        text = chance.choice(deeds)(text, chance)
    data = text.encode(chance.choice(("utf-8", "utf-8", "utf-8", "utf-16", "latin-1")), "replace")
    if chance.random() < 0.15:
        place = chance.randrange(len(data))
        data = data[:place] + bytes(chance.randrange(256) for _ in range(3)) + data[place + 3 :]
    return data[: chance.randrange(len(data))] if chance.random() < 0.1 else data


def _replaced(pattern: re.Pattern[str], text: str, chance: Random, replacement: str) -> str:
    matches = list(pattern.finditer(text))
    if not matches:
        return text
    match = chance.choice(matches)
    return text[: match.start()] + replacement + text[match.end() :]


def _other_value(text: str, chance: Random) -> str:
    matches = list(_ATTRIBUTE.finditer(text))
    if not matches:
        return text
    match = chance.choice(matches)
    return text[: match.start(2)] + chance.choice(ODD_VALUES) + text[match.end(2) :]


def _other_number(text: str, chance: Random) -> str:
    number = chance.choice(("0", "-1", "1e9", "1e300", "-1e-9", "1e400", "nan", "", "7", "0.5", ".", "1e7"))
    return _replaced(_NUMBER, text, chance, number)


def _other_name(text: str, chance: Random) -> str:
    matches = list(_TAG.finditer(text))
    if not matches:
        return text
    old, new = chance.choice(matches)[2], chance.choice(NAMES)
    return re.sub(rf"<(/?){old}\b", rf"<\g<1>{new}", text)


def _doubled(text: str, chance: Random) -> str:
    matches = list(_ELEMENT.finditer(text))
    if not matches:
        return text
    match = chance.choice(matches)
    return text[: match.end()] + match[0] * chance.randint(1, 20) + text[match.end() :]


def _dropped(text: str, chance: Random) -> str:
    start = chance.randrange(len(text) + 1)
    return text[:start] + text[start + chance.choice((1, 2, 8, 40)) :]


def _swapped_attribute(text: str, chance: Random) -> str:
    matches = list(_ATTRIBUTE.finditer(text))
    if not matches:
        return text
    return _replaced(_ATTRIBUTE, text, chance, f'{chance.choice(matches)[1]}="{chance.choice(matches)[2]}"')
