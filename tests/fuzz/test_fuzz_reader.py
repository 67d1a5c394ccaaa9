"""Spoilt SVG files: each ends in a drawing that holds together, or in a sentence.

FUZZ_INPUTS sets how many inputs the fuzz tests try in all (3000 where it is not set), of which this module
takes four in ten: `FUZZ_INPUTS=250000 pytest tests/fuzz/test_fuzz_reader.py` is the long run of 100,000.
"""

import math
import re
import warnings
from pathlib import Path
from random import Random

import shapely
from mangled_svg import mangled_svg
from mangling import guarded_against_hanging, mangled_text, share_of_inputs

from peekpaper.drawing.ink import ink
from peekpaper.drawing.read import read_drawing
from peekpaper.refusal import Refusal

SENTENCE = re.compile(r"[A-Z][^\n]{15,}\.")
SEEDS = [file.read_text() for file in sorted((Path(__file__).parent / "seeds").glob("*.svg"))]


def holds_together_or_says_why(data: bytes) -> None:
    with guarded_against_hanging(), warnings.catch_warnings():
        warnings.simplefilter("error")
        try:
            drawing, sentence = read_drawing(data), ""
        except Refusal as refusal:
            drawing, sentence = None, str(refusal)
        area = ink(drawing) if drawing else None
    if drawing is None or area is None:
        assert SENTENCE.fullmatch(sentence), sentence
        return
    assert 0 < drawing.width <= 1e6
    assert 0 < drawing.height <= 1e6
    assert area.is_valid
    assert math.isfinite(area.area)
    assert area.is_empty or shapely.box(0, 0, drawing.width, drawing.height).buffer(1e-3).covers(area)
    for shape in drawing.shapes:
        for paint in (shape.fill, shape.stroke):
            assert paint is None or (paint.area.is_valid and 0 < paint.alpha <= 1)
    for left_out in drawing.left_out:
        assert left_out.count > 0
        assert SENTENCE.fullmatch(left_out.message[2:].strip().capitalize())


def test_the_seeds_themselves_are_read() -> None:
    for seed in SEEDS:
        assert not ink(read_drawing(seed.encode())).is_empty


def test_files_with_spoilt_parts() -> None:
    chance = Random(86)
    for _ in range(share_of_inputs(0.3)):
        holds_together_or_says_why(mangled_svg(chance.choice(SEEDS), chance))


def test_files_with_spoilt_text() -> None:
    chance = Random(87)
    for _ in range(share_of_inputs(0.1)):
        text = mangled_text(chance.choice(SEEDS), chance)
        holds_together_or_says_why(text.encode("utf-8", "replace"))
