"""Plural forms, numbers and lists against Babel, which has the rules of the CLDR (UTS 35, part 3)."""

import random

import pytest
from babel import Locale, numbers
from babel.lists import format_list

from peekpaper.words.plurals import PluralRules
from peekpaper.words.words import languages, read_words

# Each has rules of another kind: no forms, two, three, four, five and six, by last digits and by decimals.
RULES = (
    "ja",
    "de",
    "fr",
    "pt",
    "ru",
    "pl",
    "cs",
    "sl",
    "lt",
    "lv",
    "ga",
    "cy",
    "ar",
    "he",
    "hi",
    "mk",
    "ro",
    "br",
)
SOME = [
    *range(0, 130),
    *random.Random(1).sample(range(130, 3_000_000), 300),
    0.5,
    1.5,
    1.1,
    2.25,
    10.01,
    21.31,
]


SIGNS = {" mod ": " % ", " not in ": " != ", " is not ": " != ", " in ": " = ", " is ": " = "}


def signs(rule: str) -> str:
    """A rule as the CLDR writes it today: Babel still has the words of its first syntax for the signs."""
    for words, sign in (
        (" mod ", " % "),
        (" not in ", " != "),
        (" is not ", " != "),
        (" in ", " = "),
        (" is ", " = "),
    ):
        rule = rule.replace(words, sign)
    return rule


@pytest.mark.parametrize("tag", RULES)
def test_a_number_has_the_plural_form_that_the_cldr_says(tag: str) -> None:
    plural = Locale(tag).plural_form
    rules = PluralRules({category: signs(rule) for category, rule in plural.rules.items()})
    assert {number: rules.category(number) for number in SOME} == {number: plural(number) for number in SOME}


def test_what_is_no_rule_is_told() -> None:
    with pytest.raises(ValueError, match="is no condition"):
        PluralRules({"one": "i is 1"}).category(1)


@pytest.mark.parametrize("tag", languages())
def test_a_language_has_the_plural_rules_of_the_cldr(tag: str) -> None:
    plural, own = Locale(tag).plural_form, read_words(tag).plurals
    assert {number: own.category(number) for number in SOME} == {number: plural(number) for number in SOME}


@pytest.mark.parametrize("tag", languages())
def test_a_language_writes_numbers_with_its_marks(tag: str) -> None:
    for number in (10_000, 1_234_567, 12_345.5, 0.25, -3.5):
        assert read_words(tag).number(number) == numbers.format_decimal(number, locale=tag)
    assert read_words(tag).number(1234) == "1234"
    assert read_words(tag).number(-0.001, 1) == "0"


@pytest.mark.parametrize("tag", languages())
def test_a_language_writes_lists_as_they_are_read_aloud(tag: str) -> None:
    # English here has no comma before the last, as British lists.
    locale = "en_GB" if tag == "en" else tag
    for count in range(1, 5):
        parts = [str(number) for number in range(1, count + 1)]
        assert read_words(tag).listed(parts) == format_list(parts, locale=locale)


def test_openings_are_numbered_as_a_person_reads_them() -> None:
    english = read_words("en")
    assert english.runs([5]) == "5"
    assert english.runs([5, 4]) == "4 and 5"
    assert english.runs([1, 2, 3, 9, 7, 8]) == "1–3 and 7–9"
    assert english.runs([1, 2, 3, 5, 9]) == "1–3, 5 and 9"
