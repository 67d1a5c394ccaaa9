"""Sheets speak the language that they are asked for: titles, steps, cautions, tables and marks."""

import re
from dataclasses import replace
from functools import cache

import pytest
from pypdfium2 import PdfDocument
from sample_work import sample_work

from peekpaper.sheets.choices import SheetChoices, SheetKind
from peekpaper.sheets.take import take_sheets
from peekpaper.words.words import languages, read_words

KINDS = (SheetKind.CUT, SheetKind.TRIM_LIST, SheetKind.GLUE_UP, SheetKind.TEMPLATES)
GAP = re.compile(r"\{[\w-]+\}")


@cache
def told(language: str) -> str:
    """All that the sheets of a small work say in a language, file names too, as one line of text."""
    work = replace(sample_work(8), words=read_words(language))
    texts = []
    for file in take_sheets(work, SheetChoices(kinds=KINDS, guides=True, size_check=True)):
        texts.append(file.name)
        if file.media_type == "application/pdf":
            texts += [page.get_textpage().get_text_bounded() for page in PdfDocument(file.data)]
        elif file.media_type in {"text/csv", "image/svg+xml"}:
            texts.append(file.data.decode("utf-8-sig"))
    return " ".join(" ".join(texts).split())


def phrases(language: str) -> set[str]:
    """The parts between figures of all words for sheets, if they are long enough to be known by."""
    texts = read_words(language).texts
    entries = [entry for key, entry in texts.items() if key.startswith(("print.", "file."))]
    forms = [form for entry in entries for form in ([entry] if isinstance(entry, str) else entry.values())]
    return {part.strip(" ,.:") for form in forms for part in GAP.split(form) if len(part.split()) > 1}


@pytest.mark.parametrize("language", [tag for tag in languages() if tag != "en"])
def test_sheets_are_whole_in_another_language(language: str) -> None:
    english = phrases("en") - phrases(language)
    assert {phrase for phrase in english if phrase in told("en")} != set()
    assert {phrase for phrase in english if re.search(rf"\b{re.escape(phrase)}\b", told(language))} == set()
    assert {phrase for phrase in phrases(language) if phrase in told(language)} != set()
