"""What the package tells has its words under a key, with all the figures that are told and no others."""

import ast
import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from workshop.places import PACKAGE

ENGLISH: dict[str, str | dict[str, str]] = json.loads((PACKAGE / "words" / "en.json").read_text())["words"]
# What makes a message, and what its first argument lacks of a key.
MAKERS = {
    "message": "",
    "Refusal": "refusal.",
    "Mismatch": "mismatch.",
    "UnknownPart": "mismatch.",
    "OutOfBounds": "mismatch.",
    "text": "",
    "say": "",
}
# Kinds of words that none but the package uses.
OF_THE_PACKAGE = (
    "refusal", "mismatch", "warning", "left-out", "notice", "plan", "offer", "colour", "shade",
    "photo-reason", "reason", "unmet", "thing", "things", "distance", "file-kind", "part", "command",
    "print", "file", "start",
)  # fmt: skip
GAP = re.compile(r"\{([\w-]+)\}")
END = re.compile(r"(_least|_most)?_mm2?$")


@dataclass(frozen=True)
class Told:
    """A message that a module makes: its key, `*` for what is put in, and its figures if they stand there."""

    key: str
    figures: frozenset[str] | None
    place: str


def literals(node: ast.expr) -> Iterator[str]:
    """Yield the texts that an expression may be, `*` for each part that is put in."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.JoinedStr):
        yield "".join(str(part.value) if isinstance(part, ast.Constant) else "*" for part in node.values)
    elif isinstance(node, ast.IfExp):
        yield from literals(node.body)
        yield from literals(node.orelse)


def told_in(path: Path) -> Iterator[Told]:
    """Yield each message that a module makes of a key that can be read there."""
    for node in ast.walk(ast.parse(path.read_text())):
        if not isinstance(node, ast.Call) or not node.args:
            continue
        name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        if name in MAKERS and isinstance(node.func, ast.Attribute) == (name == "text"):
            known = all(word.arg for word in node.keywords)
            figures = frozenset(END.sub("", word.arg or "") for word in node.keywords) if known else None
            for text in literals(node.args[0]):
                yield Told(
                    MAKERS[name] + text,
                    None if "*" in text else figures,
                    f"{path.relative_to(PACKAGE)}:{node.lineno}",
                )


def every_message() -> list[Told]:
    return [told for path in sorted(PACKAGE.rglob("*.py")) for told in told_in(path)]


def keys_of(told: Told, words: Mapping[str, object]) -> list[str]:
    """Return the keys that a message may have."""
    pattern = re.compile(re.escape(told.key).replace(r"\*", ".+"))
    return [key for key in words if pattern.fullmatch(key)]


def gaps(entry: str | dict[str, str]) -> set[str]:
    texts = entry.values() if isinstance(entry, dict) else [entry]
    return {gap for text in texts for gap in GAP.findall(text)}


def test_each_message_of_the_package_has_words() -> None:
    lacking = [f"{told.place}: {told.key}" for told in every_message() if not keys_of(told, ENGLISH)]
    assert lacking == []


def test_words_fill_in_the_figures_that_are_told_and_no_others() -> None:
    uneven = [
        f"{told.place}: {key} is told {sorted(told.figures)} and fills in {sorted(gaps(ENGLISH[key]))}"
        for told in every_message()
        if told.figures is not None
        for key in keys_of(told, ENGLISH)
        if gaps(ENGLISH[key]) | ({"count"} & told.figures) != told.figures
    ]
    assert uneven == []


def test_a_message_with_plural_forms_is_told_a_count() -> None:
    uncounted = [
        f"{told.place}: {key}"
        for told in every_message()
        if told.figures is not None
        for key in keys_of(told, ENGLISH)
        if isinstance(ENGLISH[key], dict) and "count" not in told.figures
    ]
    assert uncounted == []


def test_the_package_tells_all_that_it_has_words_for() -> None:
    texts = {
        text
        for path in PACKAGE.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text()))
        if isinstance(node, ast.expr)
        for text in literals(node)
    }
    patterns = [
        re.compile(re.escape(text).replace(r"\*", ".+")) for text in texts if "*" in text and "." in text
    ]
    stale = [
        key
        for key in ENGLISH
        if key.startswith(tuple(f"{kind}." for kind in OF_THE_PACKAGE))
        and key not in texts
        and key.partition(".")[2] not in texts
        and not any(pattern.fullmatch(key) for pattern in patterns)
    ]
    assert stale == []


# What whoever runs the command or mends the package reads: options, and errors that are defects.
NOT_FOR_A_PERSON = {"help", "description", "prog", "metavar"}
# Names in the demo, which are invented. The schema is for programs.
OF_A_PROJECT = ("demo/", "project/schema.py")
SENTENCE = re.compile(r"\b[A-Za-z]{2,} [a-z]{2,} [a-z]{2,}")


def is_silent(node: ast.AST) -> bool:
    """Tell whether what a part of a module holds is for whoever runs or mends the package."""
    if isinstance(node, ast.Expr):
        return isinstance(node.value, ast.Constant)
    if isinstance(node, ast.keyword):
        return node.arg in NOT_FOR_A_PERSON
    return isinstance(node, ast.Raise | ast.Assert)


def spoken_in(path: Path) -> Iterator[str]:
    """Yield each text of three words or more in a module that no docstring, option or defect holds."""
    tree = ast.parse(path.read_text())
    silent = {id(part) for node in ast.walk(tree) if is_silent(node) for part in ast.walk(node)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in silent:
            yield from (f"{node.lineno}: {text}" for text in [node.value] if SENTENCE.search(text))


def test_no_sentence_stands_in_the_code() -> None:
    found = [
        f"{place}:{text}"
        for path in sorted(PACKAGE.rglob("*.py"))
        if not (place := path.relative_to(PACKAGE).as_posix()).startswith(OF_A_PROJECT)
        for text in spoken_in(path)
    ]
    assert found == [], "\n".join(found)
