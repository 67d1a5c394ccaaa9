"""What the calls of one desk share: the pipeline, and the design files handed over once."""

import json
from collections.abc import Callable, Iterator, Sequence
from typing import Any

from peekpaper.desk.step import Step
from peekpaper.pipeline import Pipeline
from peekpaper.project.document import from_document
from peekpaper.project.project import Project

Arguments = dict[str, Any]
Call = Callable[["Context", Arguments, Sequence[bytes]], Iterator[Step]]


class Context:
    """The pipeline and the sources of one desk."""

    def __init__(self) -> None:
        self.pipeline = Pipeline()
        self._sources: dict[str, str] = {}
        self._last: tuple[str, Project] | None = None

    def keep_source(self, key: str, svg: str) -> None:
        """Keep a design file's text under `key`, so that later calls need only name it."""
        self._sources[key] = svg

    def project(self, arguments: Arguments) -> Project:
        """Return the project that the call is about; its source may be named by the key it was kept under.

        Raises Refusal for a document that can't be read, KeyError for an unknown key.
        """
        text = json.dumps(arguments["project"])
        if self._last is None or self._last[0] != text:
            document = arguments["project"]
            source = document["source"]
            if "key" in source:
                svg = self._sources[source["key"]]
                document = {**document, "source": {"name": source["name"], "svg": svg}}
            self._last = (text, from_document(document))
        return self._last[1]


def bytes_of(arguments: Arguments, name: str, buffers: Sequence[bytes]) -> bytes:
    """Return the bytes that the argument `name` refers to."""
    return bytes(buffers[arguments[name]["buffer"]])
