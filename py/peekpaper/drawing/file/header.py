"""What the root element shows of the px that its file is measured in."""

import re
from contextlib import suppress
from xml.etree.ElementTree import Element

_LIKELY = "data-px-per-inch"
"""What a file that was made of a drawing without a size tells instead."""
_LEAST, _MOST = 0.01, 10_000.0
_ATTRIBUTES = (
    (re.compile(r"\{.*\}version"), re.compile(r"0\.([0-8]\d?|9|9[01])(\D|$)"), 90.0),
    (re.compile(r"\{.*\}version"), re.compile(r"\d"), 96.0),
    (re.compile(r"enable-background"), re.compile(r"new\b"), 72.0),
    (re.compile(r"style"), re.compile(r".*\benable-background\s*:\s*new\b"), 72.0),
)
"""Names and beginnings of attributes of the root, and how many px make an inch where a file has such a one.

A program's own version beside the format's is that of the program that wrote last. (What programs meant by
a px is common practice, no published source: up to about 2017 it was one of 90 in an inch, or a point of
72.)
"""


def header_px_per_inch(root: Element) -> float | None:
    """Return how many px make an inch by what the root's attributes show, or None."""
    with suppress(ValueError):
        likely = float(root.get(_LIKELY, ""))
        return likely if _LEAST <= likely <= _MOST else None
    for name, value, px_per_inch in _ATTRIBUTES:
        if any(name.fullmatch(key) and value.match(text.strip()) for key, text in root.attrib.items()):
            return px_per_inch
    return None
