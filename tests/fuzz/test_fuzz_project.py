"""Spoilt project files, shelf files and links: each ends in a project that works, or in a sentence.

FUZZ_INPUTS sets how many inputs the fuzz tests try in all (3000 where it is not set).
"""

import base64
import json
import re
import struct
import zlib
from pathlib import Path
from random import Random

import pytest
from mangling import guarded_against_hanging, mangled_json, mangled_text, share_of_inputs

from peekpaper.demo.harbour import demo_project
from peekpaper.project.compact import compact_papers
from peekpaper.project.document import from_json, to_document, to_json
from peekpaper.project.link import from_link, to_link
from peekpaper.project.packing import pack
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


def opens_or_says_why(text: str, opened: object) -> None:
    with guarded_against_hanging():
        try:
            project = opened(text)  # type: ignore[operator]
        except Refusal as refusal:
            sentence = str(refusal)
            sentence.encode()
        else:
            if isinstance(project, Project):
                is_whole(project)
            return
    assert SENTENCE.match(sentence), sentence


def test_project_files_with_spoilt_parts() -> None:
    chance = Random(81)
    seeds = [json.loads(seed) for seed in SEEDS]
    for _ in range(share_of_inputs(0.25)):
        opens_or_says_why(json.dumps(mangled_json(chance.choice(seeds), chance)), from_json)


def test_project_files_with_spoilt_text() -> None:
    chance = Random(82)
    for _ in range(share_of_inputs(0.15)):
        opens_or_says_why(mangled_text(chance.choice(SEEDS), chance), from_json)


def test_shelf_files_with_spoilt_parts() -> None:
    chance = Random(83)
    seed = json.loads(shelf_to_json(demo_project().shelf))
    for _ in range(share_of_inputs(0.05)):
        opens_or_says_why(json.dumps(mangled_json(seed, chance)), shelf_from_json)


def test_links_with_spoilt_text() -> None:
    chance = Random(84)
    seeds = [to_link(from_json(seed)) for seed in SEEDS]
    for _ in range(share_of_inputs(0.15)):
        opens_or_says_why(mangled_text(chance.choice(seeds), chance), from_link)


def test_links_with_spoilt_parts_under_a_right_checksum() -> None:
    chance = Random(85)
    seeds = []
    for seed in SEEDS:
        document = to_document(from_json(seed))
        design = document["source"].pop("svg").encode()  # type: ignore[union-attr,call-arg,arg-type]
        for colourway in document["colourways"]:  # type: ignore[union-attr]
            colourway["papers"] = compact_papers(colourway["papers"])  # type: ignore[index,call-overload,arg-type]
        seeds.append((document, design))
    for _ in range(share_of_inputs(0.2)):
        document, design = chance.choice(seeds)
        decisions = pack(json.dumps(mangled_json(document, chance)).encode(), b"")
        opens_or_says_why(sealed(decisions, pack(design, b""), chance), from_link)


def sealed(decisions: bytes, design: bytes, chance: Random) -> str:
    """A link around both parts, one byte of them spoilt now and then, with a checksum that is right."""
    body = bytearray(struct.pack(">BI", 1, len(decisions)) + decisions + design)
    if chance.random() < 0.3:
        body[chance.randrange(len(body))] = chance.randrange(256)
    return base64.urlsafe_b64encode(struct.pack(">I", zlib.crc32(body)) + body).decode().rstrip("=")


@pytest.mark.parametrize(
    "text", ["[" * 100_000, '{"a":' * 100_000, '{"format": "peekpaper project", "version": 1' + "1" * 5000]
)
def test_texts_that_once_were_trouble_elsewhere(text: str) -> None:
    opens_or_says_why(text, from_json)
    opens_or_says_why(text, shelf_from_json)
    opens_or_says_why(text, from_link)
