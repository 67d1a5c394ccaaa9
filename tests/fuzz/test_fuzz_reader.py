"""Spoilt SVG files: each ends in a drawing that holds together, or in a sentence."""

import math
import re
import warnings
from pathlib import Path
from random import Random

import shapely
from english import english
from mangled_svg import mangled_svg
from mangling import mangled_text
from trial import Trial, share_of_inputs

from peekpaper.drawing.ink import ink
from peekpaper.drawing.read import read_drawing
from peekpaper.refusal import Refusal

SENTENCE = re.compile(r"[A-Z][^\n]{15,}\.")
SEEDS = [file.read_text() for file in sorted((Path(__file__).parent / "seeds").glob("*.svg"))]


def holds_together(data: bytes) -> bool:
    """Whether a drawing came of it; what came must hold together, a refusal be a sentence."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        try:
            drawing = read_drawing(data)
        except Refusal as refusal:
            drawing, sentence = None, str(refusal)
        area = ink(drawing) if drawing else None
    if drawing is None or area is None:
        assert SENTENCE.fullmatch(sentence), sentence
        return False
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
        assert SENTENCE.fullmatch(english(left_out.message)[2:].strip().capitalize())
    return True


def test_the_seeds_themselves_are_read() -> None:
    for seed in SEEDS:
        assert not ink(read_drawing(seed.encode())).is_empty


def test_files_with_spoilt_parts(trial: Trial) -> None:
    chance = Random(86)
    trial.of((mangled_svg(chance.choice(SEEDS), chance) for _ in range(share_of_inputs(0.3))), holds_together)


def test_files_with_spoilt_text(trial: Trial) -> None:
    chance = Random(87)
    texts = (mangled_text(chance.choice(SEEDS), chance) for _ in range(share_of_inputs(0.1)))
    trial.of((text.encode("utf-8", "replace") for text in texts), holds_together)
