"""A language is added by its file alone: package, command and page take it up."""

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from e2e.made_up_languages import RIGHT_TO_LEFT

from peekpaper.project.document import new_project
from peekpaper.words.words import read_words, words_of
from workshop.places import PACKAGE
from workshop.site import build

TAG = RIGHT_TO_LEFT["language"]["tag"]
ASK = f"""
from peekpaper.words.words import languages, read_words
print(*languages(), read_words("{TAG}").direction, read_words("{TAG}").text("papers.title"))
"""


def test_the_package_takes_it_up(tmp_path: Path) -> None:
    package = tmp_path / "peekpaper"
    shutil.copytree(PACKAGE, package, ignore=shutil.ignore_patterns("__pycache__"))
    (package / "words" / f"{TAG}.json").write_text(json.dumps(RIGHT_TO_LEFT), encoding="utf-8")
    asked = [sys.executable, "-X", "utf8", "-c", ASK]
    told = subprocess.run(asked, cwd=tmp_path, capture_output=True, text=True, encoding="utf-8", check=True)
    title = RIGHT_TO_LEFT["words"]["papers.title"]
    assert told.stdout.split() == ["de", "en", TAG, "rtl", title]


def test_the_page_offers_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    words = tmp_path / "words"
    shutil.copytree(PACKAGE / "words", words)
    (words / f"{TAG}.json").write_text(json.dumps(RIGHT_TO_LEFT), encoding="utf-8")
    monkeypatch.setattr(build, "WORDS", words)
    files = build.page_files()
    assert json.loads(files[f"words/{TAG}.json"]) == RIGHT_TO_LEFT
    assert f'name="languages" content="de en {TAG}"'.encode() in files["index.html"]


def test_a_new_project_names_its_papers_in_the_language_it_begins_in() -> None:
    for words in (read_words("de"), words_of(RIGHT_TO_LEFT)):
        begun = new_project("kite.svg", "<svg/>", words)
        assert begun.shelf.papers[0].name == words.text("start.oat")
        assert begun.colourways[0].name == words.text("colourway.name", number=1)
