"""What the package says to a person has its words in every language of the page."""

import ast
import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from workshop.places import REPOSITORY

PACKAGE = REPOSITORY / "py" / "peekpaper"
ENGLISH = PACKAGE / "words" / "en.json"
LANGUAGES = sorted(path for path in ENGLISH.parent.glob("*.json") if path != ENGLISH)
# The command line, the demo's own texts, and offers, of which the page tells shape and size in its own words.
NOT_SAID_IN_THE_PAGE = {
    "__main__.py",
    "commands",
    "demo",
    "backing/simple/simple_shapes.py",
}
# The page words these by their code; what they say in English is for the command line.
CODED = {"backing/cautions.py", "design/checks/card.py", "design/checks/file.py"}
# Warnings that say what other modules found.
SAID_AS_THEY_ARE = {"left-out", "notice"}
# Files to take away are in English; what is refused while they are made is said in the page.
IN_FILES = "sheets"
KEY = re.compile(r"(?:warning|refusal)\.([a-z-]+)")
GAP = re.compile(r"\{(\d)(?::\w+)?\}")


def translations(language: Path) -> dict[str, str]:
    """Return a language's sentences by their English."""
    found: dict[str, str] = json.loads(language.read_text())["sentences"]
    return found


def is_said(path: Path) -> bool:
    """Tell whether the page shows what the module says."""
    place = path.relative_to(PACKAGE)
    return not NOT_SAID_IN_THE_PAGE & {place.parts[0], place.as_posix()}


def texts(tree: ast.AST) -> Iterator[str]:
    """Yield each text that is no docstring and no part of another, its gaps written as a zero character."""
    spent = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            spent |= {id(part) for part in node.values}
            yield "".join(str(part.value) if isinstance(part, ast.Constant) else "\0" for part in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in spent:
            yield re.sub(r"\{\w*\}", "\0", node.value)


def calls(tree: ast.AST, name: str) -> Iterator[ast.Call]:
    """Yield each call of a function or class of that name."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == name:
            yield node


def refusals(tree: ast.AST) -> Iterator[str]:
    """Yield each text inside of a refusal."""
    for call in calls(tree, "Refusal"):
        yield from texts(call)


def coded_refusals(tree: ast.AST) -> set[str]:
    """Return the sentences of refusals that the page words by their code."""
    return {text for call in calls(tree, "Refusal") if len(call.args) > 1 for text in texts(call.args[0])}


def codes(tree: ast.AST, place: str) -> Iterator[str]:
    """Yield the codes of warnings and refusals that a module makes."""
    for call in calls(tree, "Refusal"):
        yield from (text for argument in call.args[1:2] for text in texts(argument))
    if place in CODED:
        warnings = list(calls(tree, "DesignWarning"))
        actions = {text for call in warnings for argument in call.args[5:6] for text in texts(argument)}
        yield from {text for text in texts(tree) if re.fullmatch("[a-z]+(-[a-z]+)+", text)} - actions
        yield from (text for call in warnings for text in texts(call.args[0]))


def sentences() -> Iterator[tuple[str, str]]:
    """Yield each sentence that the page may show, and its module."""
    for path in sorted(PACKAGE.rglob("*.py")):
        if is_said(path):
            tree = ast.parse(path.read_text())
            place = path.relative_to(PACKAGE)
            coded = coded_refusals(tree)
            in_files = place.parts[0] == IN_FILES or place.as_posix() in CODED
            for text in (refusals if in_files else texts)(tree):
                if " " in text and text.endswith(".") and text not in coded:
                    yield text, place.as_posix()


def fits(text: str, english: str) -> bool:
    """Tell whether a text of the package may come out as a template has it."""
    return re.fullmatch(re.escape(text).replace("\0", ".+").replace("\\.+", ".+"), english) is not None


@pytest.mark.parametrize("language", LANGUAGES, ids=lambda path: path.stem)
def test_each_sentence_of_the_package_has_its_translation(language: Path) -> None:
    known = translations(language)
    missing = [
        f"{place}: {text.replace(chr(0), '{}')}"
        for text, place in sentences()
        if not any(fits(text, english) for english in known)
    ]
    assert missing == [], "\n".join(missing)


def test_each_warning_and_each_refusal_with_a_code_has_words_in_the_page() -> None:
    keys = json.loads(ENGLISH.read_text())["words"]
    known = {code[1] for key in keys if (code := KEY.fullmatch(key))} | SAID_AS_THEY_ARE
    told = {
        code
        for path in PACKAGE.rglob("*.py")
        for code in codes(ast.parse(path.read_text()), path.relative_to(PACKAGE).as_posix())
    }
    assert sorted(told - known) == []
    assert sorted(known - told) == []


@pytest.mark.parametrize("language", LANGUAGES, ids=lambda path: path.stem)
def test_each_translation_is_of_something_that_the_package_says(language: Path) -> None:
    said = {
        text
        for path in PACKAGE.rglob("*.py")
        for text in texts(ast.parse(path.read_text()))
        if text.strip("\0 ")
    }
    # Words that fill a gap may be put together from names of fields and forms.
    stale = [
        english
        for english in translations(language)
        if english.endswith(".") and not any(fits(text, english) for text in said)
    ]
    assert stale == [], "\n".join(stale)


@pytest.mark.parametrize("language", LANGUAGES, ids=lambda path: path.stem)
def test_a_translation_fills_the_gaps_of_its_english_and_no_others(language: Path) -> None:
    uneven = [
        english
        for english, translation in translations(language).items()
        if not set(GAP.findall(translation)) <= set(GAP.findall(english))
        or sorted(GAP.findall(english)) != [str(at) for at in range(1, len(GAP.findall(english)) + 1)]
    ]
    assert uneven == [], "\n".join(uneven)
