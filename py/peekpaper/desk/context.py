"""What the calls of one desk share: the pipeline, and the design files handed over once."""

import gc
import json
from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING, Any

from peekpaper.backing.backing import Backing
from peekpaper.design.motifs.motif import Motif
from peekpaper.desk.step import Step
from peekpaper.gluing.glue_up import GlueGroup, glue_up
from peekpaper.papers.paper import Paper
from peekpaper.pipeline import Pipeline
from peekpaper.project.document import from_document
from peekpaper.project.project import Project
from peekpaper.words.words import Language, read_words, words_of

if TYPE_CHECKING:
    from peekpaper.tracing.seen import Looking

Arguments = dict[str, Any]
Gluing = tuple[GlueGroup, ...]
Call = Callable[["Context", Arguments, Sequence[bytes]], Iterator[Step]]


_MOST_SOURCES = 8
"""Calls still under way name the sources of a few designs; earlier ones are left behind for good."""


class UnknownSource(LookupError):
    """A call names a design file that was never handed over, or was let go."""


class Context:
    """The pipeline and the sources of one desk."""

    def __init__(self) -> None:
        self.pipeline = Pipeline()
        self._sources: dict[str, str] = {}
        self._last: tuple[str, Project] | None = None
        self._glued: tuple[tuple[Backing, tuple[Paper, ...], tuple[Motif, ...]], Gluing] | None = None
        self._looking: tuple[bytes, Looking] | None = None

    def keep_source(self, key: str, svg: str) -> None:
        """Keep a design file's text under `key`, so that later calls need only name it; let the oldest go."""
        if self._sources:
            # Left to itself Python is late to collect what the last design left, and the memory that it takes
            # in a page never shrinks.
            gc.collect()
        self._sources[key] = svg
        while len(self._sources) > _MOST_SOURCES:
            del self._sources[next(iter(self._sources))]

    def project(self, arguments: Arguments) -> Project:
        """Return the project that the call is about; its source may be named by the key it was kept under.

        Raises Refusal for a document that can't be read, UnknownSource for an unknown key.
        """
        text = json.dumps(arguments["project"])
        if self._last is None or self._last[0] != text:
            document = arguments["project"]
            source = document["source"]
            if "key" in source:
                svg = self._sources.get(source["key"])
                if svg is None:
                    raise UnknownSource(source["key"])
                document = {**document, "source": {"name": source["name"], "svg": svg}}
            self._last = (text, from_document(document, "project"))
        return self._last[1]

    def looking(self, pixels: bytes, width: int, height: int) -> "Looking":
        """Return what looks at a picture of RGBA px, the same as long as the picture is.

        Raises Refusal for a picture without px or with too many.
        """
        from peekpaper.pixels import rgba_array
        from peekpaper.tracing.seen import Looking

        if self._looking is None or self._looking[0] != pixels:
            self._looking = (pixels, Looking(rgba_array(pixels, width, height)))
        return self._looking[1]

    def gluing(self, project: Project) -> Gluing:
        """Return the order in which the project's pieces are glued, kept for list and sheets.

        Raises Refusal for choices that can't work.
        """
        pipeline = self.pipeline
        of = (pipeline.backing(project), project.shelf.papers, pipeline.glued_motifs(project))
        if self._glued is None or self._glued[0][0] is not of[0] or self._glued[0][1:] != of[1:]:
            self._glued = (of, glue_up(project, pipeline.design(project), of[0], of[2]))
        return self._glued[1]


def words_in(arguments: Arguments) -> Language:
    """Return the words that the page speaks, which it hands over; English where it hands over none."""
    return words_of(arguments["words"]) if "words" in arguments else read_words("en")


def bytes_of(arguments: Arguments, name: str, buffers: Sequence[bytes]) -> bytes:
    """Return the bytes that the argument `name` refers to."""
    return bytes(buffers[arguments[name]["buffer"]])
