"""The built site in a real browser: what every test of the page starts from."""

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect, sync_playwright

from e2e.own_site import OwnSite
from e2e.table import PATIENCE_MS, SCREENS, Screen, Table
from workshop.browser import ARGUMENTS, browser_path
from workshop.places import REPOSITORY, SITE
from workshop.serve import served
from workshop.site import build_site

PICTURES = Path(os.environ.get("PEEKPAPER_PICTURES", REPOSITORY / "e2e" / "artefacts"))


@pytest.fixture(scope="session")
def site_folder() -> Path:
    """The folder of the site, built where it is not yet."""
    chosen = Path(os.environ.get("PEEKPAPER_SITE", SITE))
    if not (chosen / "index.html").is_file():
        build_site(chosen, print)
    return chosen


@pytest.fixture(scope="session")
def site(site_folder: Path) -> Iterator[str]:
    """The address of the site."""
    with served(site_folder) as address:
        yield address


@pytest.fixture
def own_site(site_folder: Path, tmp_path: Path) -> Iterator[OwnSite]:
    """A copy of the site that the test may spoil and switch off."""
    own = OwnSite(site_folder, tmp_path / "site")
    yield own
    own.switch_off()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One browser for all tests; each test has a profile of its own in it."""
    expect.set_options(timeout=PATIENCE_MS)
    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(executable_path=browser_path(), args=list(ARGUMENTS))
        yield launched
        launched.close()


@pytest.fixture
def visit(browser: Browser, site: str) -> Iterator[Callable[[str], Table]]:
    """Opens the page on a screen by its name; the test fails if the page misbehaved meanwhile."""
    tables: list[Table] = []

    def open_on(screen: str) -> Table:
        table = Table(browser, site, SCREENS[screen], PICTURES)
        tables.append(table)
        return table

    yield open_on
    for table in tables:
        table.close()
    for table in tables:
        assert table.foreign_requests == []
        assert table.complaints == []


@pytest.fixture(params=["tablet", "laptop"])
def screen(request: pytest.FixtureRequest) -> Screen:
    """The two screens on which every part of the main job is driven."""
    return SCREENS[request.param]
