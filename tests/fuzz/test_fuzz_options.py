"""Odd options and files of the headless command: each ends in an answer, or in a sentence and exit code 2."""

import contextlib
import io
import json
import re
from pathlib import Path
from random import Random

import pytest
from mangled_svg import mangled_svg
from mangling import mangled_text
from trial import Trial, share_of_inputs

from peekpaper.__main__ import main
from peekpaper.project.document import new_project, to_json

CARD = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="30mm" viewBox="0 0 40 30">'
    '<path fill-rule="evenodd" d="M0 0h40v30h-40zM5 5h10v20h-10zM20 5h12v8h-12zM20 17l12 2-6 8z"/></svg>'
)
DESIGNS = (CARD, *(file.read_text() for file in sorted((Path(__file__).parent / "seeds").glob("*.svg"))))
LENGTHS = (
    "8in", "1/8 in", '2 1/2"', "63.5mm", "6.35 cm", "0", "0mm", "-3mm", "1e3mm", "1e999mm", "nan", "inf mm",
    "½in", "3", "", " ", "mm", "1/0in", "0.0001mm", "99999999mm", "3 mm;", "٣mm", "3mm 4mm", "--lip",
    "\u200b3mm", "\x00",
)  # fmt: skip
SIZES = (
    "12x12in",
    "210 x 297 mm",
    "12×24in",
    "x",
    "12x",
    "0x0mm",
    "-1x5in",
    "1x1mm",
    "9x9x9in",
    "1e9x1e9mm",
    "free",
)
COUNTS = ("0", "1", "4", "-1", "999999", "1e3", "", "three", "9" * 400)
OPTIONS = {
    "check": {"--width": LENGTHS, "--lip": LENGTHS, "--least-lip": LENGTHS, "--gap": LENGTHS},
    "plan": {
        "--width": LENGTHS, "--lip": LENGTHS, "--least-lip": LENGTHS, "--gap": LENGTHS,
        "--mode": ("fitted", "uniform", "neither", ""), "--papers": COUNTS, "--shared": LENGTHS,
        "--trim-step": (*LENGTHS, "free"), "--mat": SIZES, "--spacing": LENGTHS, "--margin": LENGTHS,
        "--rounds": COUNTS, "--units": ("in", "mm", "ft", ""), "--print-on": ("A4", "Letter", "a4", ""),
    },
    "ink": {},
}  # fmt: skip
# What each command prints when all went well.
ANSWERS = {
    "check": lambda out: "openings" in json.loads(out),
    "ink": lambda out: json.loads(out) is not None,
    "plan": lambda out: all("." in name for name in out.splitlines()),
}
SENTENCE = re.compile(r"usage: .+ error: .+|[^\n]{15,}\.", re.DOTALL)


def told(words: list[str]) -> tuple[int, str, str]:
    """Return the exit code of a command and what it wrote to standard output and standard error."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            code = main(words)
        except SystemExit as left:
            code = int(left.code or 0)
    return code, out.getvalue(), err.getvalue()


def answers(words: list[str]) -> bool:
    """Whether the command answered; a refusal must be a sentence and nothing else."""
    code, out, err = told(words)
    if code == 0:
        assert out.startswith("usage: ") or ANSWERS[words[0]](out)
        return True
    assert code == 2
    assert out == ""
    assert SENTENCE.fullmatch(err.strip()), err
    assert "Traceback" not in err
    return False


def words_for(command: str, chance: Random) -> list[str]:
    options = OPTIONS[command]
    chosen = chance.sample(sorted(options), k=min(len(options), chance.randint(0, 3)))
    words: list[str] = []
    for name in chosen:
        value = chance.choice(options[name])
        if chance.random() < 0.2:
            value = mangled_text(value, chance).encode("utf-8", "replace").decode()
        words += [f"{name}={value}"] if chance.random() < 0.5 else [name, value]
    return words


@pytest.fixture(scope="module")
def card(tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("options") / "card.svg"
    file.write_text(CARD)
    return file


def test_check_with_odd_options(card: Path, trial: Trial) -> None:
    chance = Random(91)
    asked = (words_for("check", chance) for _ in range(share_of_inputs(0.05)))
    trial.of((["check", str(card), *words] for words in asked), answers)


def test_plan_with_odd_options(card: Path, tmp_path: Path, trial: Trial) -> None:
    chance = Random(92)
    start = ["plan", str(card), "--out", str(tmp_path / "out"), "--rounds", "1"]
    asked = (words_for("plan", chance) for _ in range(share_of_inputs(0.01)))
    trial.of(([*start, *words] for words in asked), answers)


def test_any_command_with_words_that_make_no_sense(card: Path, tmp_path: Path, trial: Trial) -> None:
    chance = Random(93)
    known = ["check", "ink", str(card), "--width", "8in", "-h", "--", "-", "", "plan", "--seconds", "nan"]
    known.append(str(tmp_path))
    asked = (
        [chance.choice(known) for _ in range(chance.randint(0, 5))] for _ in range(share_of_inputs(0.02))
    )
    trial.of(asked, answers)


@pytest.mark.parametrize(("command", "share"), [("check", 0.04), ("plan", 0.004), ("ink", 0.02)])
def test_any_command_with_spoilt_designs(
    command: str, share: float, tmp_path: Path, trial: Trial, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The whole way through: what the reader lets in must not trip any later step."""
    monkeypatch.chdir(tmp_path)
    chance = Random(94)
    file = tmp_path / "spoilt.svg"
    more = ["--out", "out", "--rounds", "1"] if command == "plan" else []

    def result(data: bytes) -> bool:
        file.write_bytes(data)
        return answers([command, str(file), *more])

    designs = (mangled_svg(chance.choice(DESIGNS), chance) for _ in range(share_of_inputs(share)))
    trial.of(designs, result)


def test_check_of_spoilt_projects(tmp_path: Path, trial: Trial) -> None:
    chance = Random(95)
    project = to_json(new_project("card.svg", CARD))
    file = tmp_path / "spoilt"

    def result(text: str) -> bool:
        file.write_text(text, "utf-8", "replace")
        return answers(["check", str(file)])

    trial.of((mangled_text(project, chance) for _ in range(share_of_inputs(0.02))), result)


def test_the_card_itself_is_checked(card: Path) -> None:
    code, out, _ = told(["check", str(card)])
    assert code == 0
    assert len(json.loads(out)["openings"]) == 3
