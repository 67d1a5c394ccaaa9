"""The browser of the tests: an installed one, else Playwright's, else Debian's, else a sentence."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Barrier, BrokenBarrierError

import pytest

from workshop import browser, debian
from workshop.stopped import Stopped

Asked = list[tuple[str, ...]]


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Asked:
    """A machine without any browser, out of reach of all; notes the commands that it is asked to run."""
    commands: Asked = []

    def run(command: list[str]) -> bool:
        commands.append(tuple(command))
        return False

    monkeypatch.delenv("PEEKPAPER_BROWSER", raising=False)
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setenv("PLAYWRIGHT_BROWSERS_PATH", str(tmp_path / "browsers"))
    monkeypatch.setattr(browser, "APPLICATIONS", ())
    monkeypatch.setattr(browser, "_fetched", run)
    monkeypatch.setattr(debian, "_succeeds", run)
    return commands


def program(folder: Path, name: str) -> Path:
    path = folder / name
    path.write_text("#!/bin/sh\n")
    path.chmod(0o755)
    return path


def installs(name: str, folder: Path) -> Callable[[list[str]], bool]:
    def run(command: list[str]) -> bool:
        if command[1:2] == ["install"]:
            program(folder, name)
        return command[0] == "apt-get"

    return run


@pytest.mark.parametrize("name", ["chromium-headless-shell", "chromium", "google-chrome"])
def test_an_installed_browser_is_taken_and_nothing_fetched(asked: Asked, tmp_path: Path, name: str) -> None:
    installed = program(tmp_path, name)
    assert browser.browser_path() == str(installed)
    assert asked == []


def test_the_one_that_the_person_names_wins(
    asked: Asked, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    program(tmp_path, "chromium")
    monkeypatch.setenv("PEEKPAPER_BROWSER", "/some/browser")
    assert browser.browser_path() == "/some/browser"


def test_without_one_playwright_is_asked_for_its_own(
    asked: Asked, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    own = program(tmp_path, "playwrights")
    monkeypatch.setattr(browser, "_playwrights_own", lambda *, fetch: str(own) if fetch else None)
    assert browser.browser_path() == str(own)


def test_where_that_is_out_of_reach_debian_is_asked(
    asked: Asked, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    program(tmp_path, "apt-get")
    monkeypatch.setattr(debian.os, "geteuid", lambda: 0)
    monkeypatch.setattr(debian, "_succeeds", installs("chromium-headless-shell", tmp_path))
    assert browser.browser_path() == str(tmp_path / "chromium-headless-shell")


def test_where_nothing_helps_a_sentence_says_what_to_do(asked: Asked) -> None:
    with pytest.raises(Stopped) as stopped:
        browser.browser_path()
    assert [command[-2:] for command in asked] == [("install", "chromium")]
    assert "PEEKPAPER_BROWSER" in str(stopped.value)
    assert str(stopped.value).endswith(".")


def test_tests_side_by_side_install_one_after_the_other(
    asked: Asked, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    program(tmp_path, "apt-get")
    monkeypatch.setattr(debian.os, "geteuid", lambda: 0)
    both_at_once = Barrier(2)

    def run(_: list[str]) -> bool:
        with pytest.raises(BrokenBarrierError):
            both_at_once.wait(timeout=0.1)
        return True

    monkeypatch.setattr(debian, "_succeeds", run)
    with ThreadPoolExecutor() as side_by_side:
        assert list(side_by_side.map(debian.install, ("firefox-esr", "webkit2gtk-driver"))) == [True, True]
