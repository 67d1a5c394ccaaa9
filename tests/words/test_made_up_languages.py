"""The mechanism holds languages that nobody speaks: four plural forms, other scripts, right to left."""

from typing import Any

import pytest
from e2e.made_up_languages import ENGLISH, FOUR_FORMS, GAP, RIGHT_TO_LEFT

from peekpaper.message import Message, message
from peekpaper.words.words import words_of


@pytest.mark.parametrize("file", [FOUR_FORMS, RIGHT_TO_LEFT], ids=["four forms", "right to left"])
def test_all_that_english_says_is_said_in_another_language(file: dict[str, Any]) -> None:
    language = words_of(file)
    assert language.texts.keys() == ENGLISH["words"].keys()
    for key, entry in ENGLISH["words"].items():
        texts = [entry] if isinstance(entry, str) else list(entry.values())
        gaps = {gap.strip("{}") for text in texts for gap in GAP.findall(text)} | {"count"}
        for count in (1, 2, 3, 5):
            said = language.say(Message(key, {**dict.fromkeys(gaps, "@"), "count": count}))
            assert said
            assert "{" not in said


def test_four_plural_forms_are_chosen_by_the_number() -> None:
    forms = {"one": "a", "two": "b", "few": "c", "other": "d"}
    language = words_of({**FOUR_FORMS, "words": {"cut": forms}})
    said = {count: language.say(message("cut", count=count)) for count in (0, 1, 2, 3, 4, 5, 11, 101, 1.5)}
    assert said == {0: "d", 1: "a", 2: "b", 3: "c", 4: "c", 5: "d", 11: "d", 101: "a", 1.5: "c"}


def test_figures_are_written_as_the_language_has_them() -> None:
    texts = {"told": "{names}; {numbers}; {width}; {most}; {area}"}
    figures = {
        "names": ("a", "b", "c"),
        "numbers": (1, 2, 3, 7),
        "width_mm": 12.5,
        "most": 12345,
        "area_mm2": 3.0,
    }
    told = Message("told", figures)
    four, mirrored = (words_of({**file, "words": texts}) for file in (FOUR_FORMS, RIGHT_TO_LEFT))
    assert four.say(told) == "a, b in c; 1–3 in 7; 12,5 mm; 12.345; 3 mm²"
    # Latin letters keep their own direction among letters that go leftwards.
    apart = mirrored.say(told).replace("\u2068", "[").replace("\u2069", "]")
    assert apart == "[a], [b] ו[c]; 1–3 ו7; [12.5 mm]; 12,345; [3 mm²]"


def test_lengths_that_differ_do_not_come_out_the_same() -> None:
    words = {"told": "{limit} {narrowest}", "length.just-under": "just under {width}"}
    english = words_of({**ENGLISH, "words": words})
    assert english.say(message("told", limit_mm=1.5, narrowest_mm=1.46)) == "1.5 mm 1.46 mm"
    assert english.say(message("told", limit_mm=25.4, narrowest_mm=12.7), "in") == "1 in 1/2 in"
    assert english.say(message("told", limit_mm=1.6, narrowest_mm=1.5), "in") == "1/16 in just under 1/16 in"
