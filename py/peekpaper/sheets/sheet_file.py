"""A file to take away."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SheetFile:
    """A finished file: a name that is safe on every system, its media type (IANA), and its bytes."""

    name: str
    media_type: str
    data: bytes
