"""CSS custom properties: `var(--name, fallback)` (CSS Custom Properties 1)."""

import re
from collections.abc import Mapping

_INNERMOST = re.compile(r"var\(\s*(--[^\s,()]+)\s*(?:,([^()]*(?:\([^()]*\)[^()]*)*))?\)", re.IGNORECASE)
_MAX_STEPS = 100
_MAX_LENGTH = 10_000


def replace_variables(text: str, variables: Mapping[str, str]) -> str | None:
    """Return `text` with its variables replaced, or None where one is unknown, circular or far too long."""
    if "var(" not in text.lower():
        return text
    for _ in range(_MAX_STEPS):
        match = _INNERMOST.search(text)
        if match is None:
            return None if "var(" in text.lower() else text.strip()
        value = variables.get(match[1], match[2])
        if value is None or len(text) + len(value) > _MAX_LENGTH:
            return None
        text = text[: match.start()] + value.strip() + text[match.end() :]
    return None
