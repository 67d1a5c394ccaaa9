"""What the desk hands to the page, one step of a call at a time."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Step:
    """One message to the page: its kind, and its value as JSON text.

    `kind` is "progress", "result", "refusal", "unknown-source", "needs", or "breath", which tells nothing.
    Bytes travel beside the JSON in `buffers`; the JSON names one as `{"buffer": index}`.
    """

    kind: str
    json: str
    buffers: tuple[bytes, ...] = ()


def step(kind: str, value: Mapping[str, Any], buffers: tuple[bytes, ...] = ()) -> Step:
    """Return the step of `kind` with `value` written as JSON."""
    return Step(kind, json.dumps(value, separators=(",", ":"), allow_nan=False), buffers)


def result(value: Mapping[str, Any], buffers: tuple[bytes, ...] = ()) -> Step:
    """Return the last step of a call that succeeded."""
    return step("result", value, buffers)


def needs(part: str) -> Step:
    """Return the step that asks for one of the package's extras before the call goes on."""
    return step("needs", {"part": part})


BREATH = step("breath", {})
"""Nothing to tell, but others may be answered first."""
