"""Spoilt project files, shelf files and links: each ends in a project that works, or in a sentence."""

import base64
import json
import re
import struct
import zlib
from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest
from mangling import mangled_json, mangled_text
from trial import Trial, share_of_inputs

from peekpaper.demo.harbour import demo_project
from peekpaper.project.compact import compact_papers
from peekpaper.project.compression import compress
from peekpaper.project.document import from_json, to_document, to_json
from peekpaper.project.link import from_link, to_link
from peekpaper.project.project import Project
from peekpaper.project.shelf_file import shelf_from_json, shelf_to_json
from peekpaper.refusal import Refusal

SAMPLE = Path(__file__).parents[1] / "project" / "samples" / "version-1.json"
SEEDS = (SAMPLE.read_text(), to_json(demo_project()))
SENTENCE = re.compile(r"^[A-Z“].{15,}[.!]$", re.DOTALL)


def is_whole(project: Project) -> None:
    """A project that opened can be saved and opened again, and sent unless it is too large."""
    assert from_json(to_json(project)) == project
    try:
        link = to_link(project)
    except Refusal:
        return
    assert from_link(link) == project


def opens(open_it: Callable[[str], object]) -> Callable[[str], bool]:
    """Return what tells whether a text opened; what opened must be whole, a refusal be a sentence."""

    def opened(text: str) -> bool:
        try:
            project = open_it(text)
        except Refusal as refusal:
            sentence = str(refusal)
            sentence.encode()
            assert SENTENCE.match(sentence), sentence
            return False
        if isinstance(project, Project):
            is_whole(project)
        return True

    return opened


def test_project_files_with_spoilt_parts(trial: Trial) -> None:
    chance = Random(81)
    seeds = [json.loads(seed) for seed in SEEDS]
    documents = (mangled_json(chance.choice(seeds), chance) for _ in range(share_of_inputs(0.25)))
    trial.of(map(json.dumps, documents), opens(from_json))


def test_project_files_with_spoilt_text(trial: Trial) -> None:
    chance = Random(82)
    texts = (mangled_text(chance.choice(SEEDS), chance) for _ in range(share_of_inputs(0.15)))
    trial.of(texts, opens(from_json))


def test_shelf_files_with_spoilt_parts(trial: Trial) -> None:
    chance = Random(83)
    seed = json.loads(shelf_to_json(demo_project().shelf))
    documents = (mangled_json(seed, chance) for _ in range(share_of_inputs(0.05)))
    trial.of(map(json.dumps, documents), opens(shelf_from_json))


def test_links_with_spoilt_text(trial: Trial) -> None:
    chance = Random(84)
    seeds = [to_link(from_json(seed)) for seed in SEEDS]
    links = (mangled_text(chance.choice(seeds), chance) for _ in range(share_of_inputs(0.15)))
    trial.of(links, opens(from_link))


def test_links_with_spoilt_parts_under_a_right_checksum(trial: Trial) -> None:
    chance = Random(85)
    seeds = []
    for seed in SEEDS:
        document = to_document(from_json(seed))
        design = document["source"].pop("svg").encode()  # type: ignore[union-attr,call-arg,arg-type]
        for colourway in document["colourways"]:  # type: ignore[union-attr]
            colourway["papers"] = compact_papers(colourway["papers"])  # type: ignore[index,call-overload,arg-type]
        seeds.append((document, design))

    def link() -> str:
        document, design = chance.choice(seeds)
        decisions = compress(json.dumps(mangled_json(document, chance)).encode(), b"")
        return sealed(decisions, compress(design, b""), chance)

    trial.of((link() for _ in range(share_of_inputs(0.2))), opens(from_link))


def sealed(decisions: bytes, design: bytes, chance: Random) -> str:
    """A link around both parts, one byte of them spoilt now and then, with a checksum that is right."""
    body = bytearray(struct.pack(">BI", 1, len(decisions)) + decisions + design)
    if chance.random() < 0.3:
        body[chance.randrange(len(body))] = chance.randrange(256)
    return base64.urlsafe_b64encode(struct.pack(">I", zlib.crc32(body)) + body).decode().rstrip("=")


@pytest.mark.parametrize(
    "text", ["[" * 100_000, '{"a":' * 100_000, '{"format": "peekpaper project", "version": 1' + "1" * 5000]
)
def test_texts_that_once_were_trouble_elsewhere(text: str, trial: Trial) -> None:
    for open_it in (from_json, shelf_from_json, from_link):
        trial.of([text], opens(open_it))
