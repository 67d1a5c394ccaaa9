"""A file to take away."""

from dataclasses import dataclass
from enum import StrEnum


class Purpose(StrEnum):
    """What a file is for, whichever its format."""

    CUT_MAT = "cut-mat"
    CUT_PAPER = "cut-paper"
    CUT_CARD = "cut-card"
    CUT_WHOLE_BACK = "cut-whole-back"
    TRIM_LIST = "trim-list"
    TO_BUY = "to-buy"
    GLUE_UP = "glue-up"
    TEMPLATES = "templates"
    TEST_STRIP = "test-strip"
    PRINTED_TRIMS = "printed-trims"
    PRINTED_PIECES = "printed-pieces"
    EVERYTHING = "everything"


@dataclass(frozen=True, slots=True)
class SheetFile:
    """A finished file: a name that is safe on every system, its media type (IANA), its bytes, its purpose."""

    name: str
    media_type: str
    data: bytes
    purpose: Purpose
