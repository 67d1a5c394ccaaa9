"""Each language has words for all that is said, in each of its plural forms, with all the figures."""

import json
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from workshop.places import PACKAGE

WORDS = PACKAGE / "words"
ENGLISH = WORDS / "en.json"
LANGUAGES = sorted(WORDS.glob("*.json"))
FIGURE = re.compile(r"\{([^{}]*)\}")
# A form for one may spell the number out, or need none.
COUNT = {"count"}
SPELT = ("zero", "one", "two")


def read(path: Path) -> dict[str, Any]:
    """Return a language's file; raises AssertionError where a key stands twice."""

    def unique(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        keys = [key for key, _ in pairs]
        assert len(set(keys)) == len(keys), sorted({key for key in keys if keys.count(key) > 1})
        return dict(pairs)

    file: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"), object_pairs_hook=unique)
    return file


def forms(entry: str | dict[str, str]) -> dict[str, str]:
    """Return the texts of an entry by plural category; a single text is `other`."""
    return {"other": entry} if isinstance(entry, str) else entry


def plural_categories(tag: str) -> set[str]:
    """Return the plural categories of a language by the CLDR, as Node.js has them (ICU)."""
    code = f"console.log(new Intl.PluralRules({json.dumps(tag)}).resolvedOptions().pluralCategories.join())"
    done = subprocess.run(["node", "--eval", code], capture_output=True, text=True, check=True)
    return set(done.stdout.strip().split(","))


def faults(english: dict[str, Any], other: dict[str, Any], categories: set[str]) -> Iterator[str]:
    """Yield a sentence for each key, plural form or figure that one language lacks or has too many."""
    yield from (f"{key}: missing" for key in english if key not in other)
    yield from (f"{key}: stale" for key in other if key not in english)
    for key in english.keys() & other.keys():
        entry = forms(other[key])
        figures = set(FIGURE.findall(forms(english[key])["other"]))
        if isinstance(english[key], dict) and set(entry) != categories:
            yield f"{key}: has {sorted(entry)} and needs {sorted(categories)}"
        for category, text in entry.items():
            lacking = figures - set(FIGURE.findall(text)) - (COUNT if category in SPELT else set())
            strange = set(FIGURE.findall(text)) - figures
            if not text.strip() or lacking or strange:
                yield f"{key} ({category}): lacks {sorted(lacking)}, can't fill {sorted(strange)}"


@pytest.mark.parametrize("path", LANGUAGES, ids=lambda path: path.stem)
def test_a_language_has_every_key_form_and_figure(path: Path) -> None:
    file = read(path)
    assert file["language"]["tag"] == path.stem
    assert file["language"]["direction"] in {"ltr", "rtl"}
    found = sorted(faults(read(ENGLISH)["words"], file["words"], plural_categories(path.stem)))
    assert found == [], "\n".join(found)


@pytest.mark.parametrize(
    ("words", "fault"),
    [
        ({}, "cut: missing"),
        ({"cut": {"one": "a", "few": "{count}", "many": "{count}"}}, "cut: has"),
        (
            {"cut": {"one": "a", "few": "b", "many": "{count}", "other": "{count}"}},
            "cut (few): lacks ['count']",
        ),
        (
            {"cut": {"one": "a", "few": "{count}", "many": "{count}", "other": "{count} {size}"}},
            "cut (other): lacks [], can't fill ['size']",
        ),
        ({"cut": "{count}", "old": "gone"}, "old: stale"),
    ],
)
def test_what_a_language_of_four_forms_lacks_is_told(words: dict[str, Any], fault: str) -> None:
    english = {"cut": {"one": "{count} cut", "other": "{count} cuts"}}
    assert any(told.startswith(fault) for told in faults(english, words, {"one", "few", "many", "other"}))
