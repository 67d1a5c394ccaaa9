"""What the text of an SVG file tells at a glance, before anything is read."""

import re

_TEXT = re.compile(r"<([\w.-]+:)?text[\s>]")
_FACE = re.compile(r"@font-face\b", re.IGNORECASE)


def has_text(svg: str) -> bool:
    """Tell whether a file has words in it."""
    return _TEXT.search(svg) is not None


def may_hold_typefaces(svg: str) -> bool:
    """Tell whether a file may hold typefaces for words in it."""
    return "data:" in svg and _FACE.search(svg) is not None and has_text(svg)
