"""What is new in each version, from the change log, as the page tells it in its language."""

import json
import re
from pathlib import Path

from workshop.places import PACKAGE, REPOSITORY

CHANGES = {"en": REPOSITORY / "CHANGELOG.md", "de": PACKAGE / "words" / "changes" / "de.md"}
"""By BCP 47 tag; in other languages what is new is told in English."""
_VERSION = re.compile(r"^## (\S+)$", re.MULTILINE)
_CHANGE = re.compile(r"^- (.+(?:\n  .+)*)", re.MULTILINE)

Version = dict[str, str | list[str]]


def versions(log: Path) -> list[Version]:
    """Return the versions in a change log, the newest first, each with its changes as plain sentences."""
    _, *parts = _VERSION.split(log.read_text(encoding="utf-8"))
    return [
        {"version": version, "changes": [_plain(change) for change in _CHANGE.findall(text)]}
        for version, text in zip(parts[::2], parts[1::2], strict=True)
    ]


def news() -> bytes:
    """Return what the site serves: the versions by language."""
    told = {tag: versions(log) for tag, log in CHANGES.items()}
    return json.dumps(told, ensure_ascii=False, separators=(",", ":")).encode()


def _plain(markdown: str) -> str:
    return " ".join(markdown.split()).replace("`", "")
