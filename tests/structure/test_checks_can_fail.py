"""Each check is shown a fault planted in a small copy of the house, and must see it."""

import subprocess
from pathlib import Path

import pytest

from workshop import javascript, locks
from workshop.checks import check, dead_code, dependencies, duplicates, web_layers, wording
from workshop.environment import tool
from workshop.places import REPOSITORY

LINES = "".join(f"value_{number} = work({number})\n" for number in range(9))
LISTS = """[project]
dependencies = ["numpy==2.4.6"]
optional-dependencies.sheets = []
optional-dependencies.letters = []
optional-dependencies.dev = ["pytest==9.2.0", "brotli==1.2.1"]
"""


@pytest.fixture
def house(tmp_path: Path) -> Path:
    """A small house with nothing wrong in it."""
    for path, text in {
        "pyproject.toml": LISTS,
        "py/peekpaper/area.py": "import numpy\n\n\ndef area(side):\n    return numpy.square(side)\n",
        "py/workshop/pack.py": "import brotli\n\nfrom peekpaper.area import area\n\nprint(brotli, area(2))\n",
        "py/locks/workshop.txt": "numpy==2.4.6 \\\n    --hash=sha256:00\n",
        "py/locks/page.txt": "",
        "tests/test_area.py": "import pytest\n\nfrom peekpaper.area import area\n",
        "web/app.js": 'make("p", { class: "soft small" }, say("app.hello"));\n',
        "web/words/en.js": 'export default { "app.hello": "Good morning to you." };\n',
    }.items():
        plant(tmp_path, path, text)
    return tmp_path


def plant(house: Path, path: str, text: str) -> None:
    (house / path).parent.mkdir(parents=True, exist_ok=True)
    with (house / path).open("a") as file:
        file.write(text)


def test_a_clean_house_has_no_complaints(house: Path) -> None:
    for complaints in (dead_code, duplicates, dependencies):
        assert list(complaints.complaints(house)) == []
    assert list(wording.complaints(house / "web")) == []


@pytest.mark.parametrize(
    ("place", "line", "said"),
    [
        ("web/words/said.js", 'import { make } from "../parts/dom.js";', "imports parts/dom.js"),
        ("web/desk/bench.js", 'const shown = await import("../places/front.js");', "imports places/front.js"),
        ("web/extras/new.js", "export const none = 0;", "web/extras has no place"),
    ],
)
def test_an_import_in_the_page_that_runs_up(house: Path, place: str, line: str, said: str) -> None:
    plant(house, place, f"{line}\n")
    (complaint,) = web_layers.complaints(house / "web")
    assert said in complaint


def test_types_of_the_page_may_come_from_anywhere(house: Path) -> None:
    plant(house, "web/words/said.js", '/** @typedef {import("../desk/types.js").Message} Message */\n')
    assert list(web_layers.complaints(house / "web")) == []


def test_a_function_that_nothing_calls(house: Path) -> None:
    plant(house, "py/peekpaper/area.py", "\n\ndef forgotten():\n    return 1\n")
    (complaint,) = dead_code.complaints(house)
    assert "forgotten" in complaint


@pytest.mark.parametrize("other", ["py/peekpaper/area.py", "tests/test_area.py"])
def test_lines_that_stand_in_two_places(house: Path, other: str) -> None:
    plant(house, "py/peekpaper/area.py", LINES)
    plant(house, other, "between = work()\n" + LINES.replace("value", "  value"))
    (complaint,) = duplicates.complaints(house)
    assert complaint.startswith(other)


@pytest.mark.parametrize(
    "line",
    [
        'make("p", {}, "Good evening to all.");',
        'status.textContent = "done";',
        'make("button", { "aria-label": "close" });',
        "notices.tell(`Still ${count} to go.`);",
    ],
)
def test_words_in_the_pages_code(house: Path, line: str) -> None:
    plant(house, "web/app.js", f"{line}\n")
    (complaint,) = wording.complaints(house / "web")
    assert complaint.startswith("app.js:2")


def test_a_package_that_no_list_names(house: Path) -> None:
    plant(house, "py/peekpaper/area.py", "\n\ndef draw():\n    import PIL\n")
    (complaint,) = dependencies.complaints(house)
    assert complaint == "py/peekpaper/area.py: 'PIL' imported but it is a transitive dependency"


def test_a_tool_that_the_package_may_not_lean_on(house: Path) -> None:
    plant(house, "py/peekpaper/area.py", "import brotli\n")
    (complaint,) = dependencies.complaints(house)
    assert complaint == "py/peekpaper/area.py: 'brotli' imported but declared as a dev dependency"


def test_a_listed_package_that_nothing_imports(house: Path) -> None:
    (house / "py/workshop/pack.py").write_text("")
    (complaint,) = dependencies.complaints(house)
    assert "'brotli' defined as a dependency but not used" in complaint


def test_a_shipped_package_that_only_tests_import(house: Path) -> None:
    (house / "py/peekpaper/area.py").write_text("def area(side):\n    return side * side\n")
    plant(house, "tests/test_area.py", "import numpy\n")
    (complaint,) = dependencies.complaints(house)
    assert "'numpy' defined as a dependency but not used" in complaint


@pytest.mark.parametrize("line", ["pytest==9.2.0\n", "pytest>=9 \\\n    --hash=sha256:00\n"])
def test_a_pin_without_version_or_hash(house: Path, line: str) -> None:
    plant(house, "py/locks/workshop.txt", line)
    (complaint,) = dependencies.complaints(house)
    assert complaint.startswith("workshop.txt does not pin")


def test_a_lock_older_than_the_lists(house: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert locks.out_of_date() == []
    monkeypatch.setattr(locks, "digest", lambda: "other")
    assert locks.out_of_date() == [locks.WORKSHOP_LOCK, locks.PAGE_LOCK]


@pytest.mark.parametrize(
    ("program", "line"),
    [
        (("ruff", "check", "--quiet"), "import os\n"),
        (("ruff", "format", "--check", "--quiet"), "side=  2\n"),
        (("mypy", "--cache-dir", "/dev/null"), 'side: int = "two"\n'),
    ],
    ids=["style", "form", "types"],
)
def test_python_that_is_untidy_or_wrongly_typed(house: Path, program: tuple[str, ...], line: str) -> None:
    name, *words = program
    file = house / "planted.py"
    own = ["--config-file" if name == "mypy" else "--config", str(REPOSITORY / "pyproject.toml")]
    for text, clean in (("", True), (line, False)):
        file.write_text(text)
        done = subprocess.run([tool(name), *words, *own, str(file)], capture_output=True, check=False)
        assert (done.returncode == 0) is clean, done.stdout


def test_javascript_that_is_wrongly_typed(house: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    modules = javascript._modules()
    monkeypatch.setattr(javascript, "_modules", lambda: modules)
    monkeypatch.setattr(javascript, "WEB", house / "web")
    plant(house, "web/tsconfig.json", (REPOSITORY / "web" / "tsconfig.json").read_text())
    (house / "web" / "app.js").write_text("/** @type {number} */\nexport const side = 2;\n")
    assert javascript.type_complaints() == []
    plant(house, "web/app.js", '/** @type {number} */\nexport const other = "two";\n')
    (found,) = javascript.type_complaints()
    assert "not assignable" in found


def test_one_failed_check_fails_the_command_and_stops_none(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(check, "_tool", lambda *_: [])
    monkeypatch.setattr(javascript, "type_complaints", list)
    for module in (dead_code, dependencies, duplicates, wording):
        monkeypatch.setattr(module, "complaints", lambda: ["something is wrong"])
    assert check.check() == 1
    told = capsys.readouterr().out
    assert told.count("FAILED") == 4
    assert "ok     locks" in told
