"""The built site in a real browser: what every test of the page starts from."""

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, StorageState, expect, sync_playwright

from e2e.own_site import OwnSite
from e2e.panels import window_svg
from e2e.table import PATIENCE_MS, SCREENS, Screen, Table, wait_until
from workshop.browser import ARGUMENTS, browser_path
from workshop.places import REPOSITORY, SITE
from workshop.site.build import build_site

# Visits are short: what the browser's second compiler makes quicker it makes too late.
QUICK_START = "--js-flags=--liftoff-only"
SEARCH_FILE = "desk/bench.js"
LONG_SEARCH, SHORT_SEARCH = "PLAN_SECONDS = 10;", "PLAN_SECONDS = 2;"
# Of what the browser keeps, the open project alone, without its thumbnail, which can't be carried over.
FORGET_OTHERS = """async (id) => {
    const opening = indexedDB.open("peekpaper");
    await new Promise((done) => { opening.onsuccess = done; });
    const transaction = opening.result.transaction(["projects", "versions"], "readwrite");
    transaction.objectStore("versions").clear();
    const projects = transaction.objectStore("projects");
    projects.openCursor().onsuccess = ({ target: { result } }) => {
        if (!result) return;
        if (result.key === id) result.update({ ...result.value, thumbnail: null });
        else result.delete();
        result.continue();
    };
    await new Promise((done) => { transaction.oncomplete = done; });
    opening.result.close();
}"""
KEPT_WHOLE = """async (id) => {
    const opening = indexedDB.open("peekpaper");
    await new Promise((done) => { opening.onsuccess = done; });
    const asked = opening.result.transaction("projects").objectStore("projects").get(id);
    await new Promise((done) => { asked.onsuccess = done; });
    opening.result.close();
    return Boolean(asked.result?.views?.backing);
}"""
OPEN_PROJECT = "localStorage.getItem('peekpaper-last')"

PICTURES = Path(os.environ.get("PEEKPAPER_PICTURES", REPOSITORY / "e2e" / "artefacts"))


@pytest.fixture(scope="session")
def site_folder() -> Path:
    """The folder of the site, built where it is not yet."""
    chosen = Path(os.environ.get("PEEKPAPER_SITE", SITE))
    if not (chosen / "index.html").is_file():
        build_site(chosen, print)
    return chosen


@pytest.fixture(scope="session")
def site(site_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of the site, which seeks plans for so short a time that no test waits for better ones."""
    own = OwnSite(site_folder, tmp_path_factory.mktemp("served") / "site")
    built = (own.folder / SEARCH_FILE).read_text()
    assert LONG_SEARCH in built
    own.publish(SEARCH_FILE, built.replace(LONG_SEARCH, SHORT_SEARCH).encode())
    yield own.address
    own.switch_off()


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
        launched = playwright.chromium.launch(executable_path=browser_path(), args=[*ARGUMENTS, QUICK_START])
        yield launched
        launched.close()


@pytest.fixture
def open_table(browser: Browser, site: str) -> Iterator[Callable[[str, StorageState | None], Table]]:
    """Opens the page; the test fails if the page misbehaved meanwhile."""
    tables: list[Table] = []

    def open_on(screen: str, left: StorageState | None) -> Table:
        table = Table(browser, site, SCREENS[screen], PICTURES, left=left)
        tables.append(table)
        return table

    yield open_on
    for table in tables:
        table.close()
    for table in tables:
        assert table.foreign_requests == []
        assert table.complaints == []


@pytest.fixture
def visit(open_table: Callable[[str, StorageState | None], Table]) -> Callable[[str], Table]:
    """Opens the page on a screen by its name, for the first time."""
    return lambda screen: open_table(screen, None)


@pytest.fixture(scope="session")
def left_window(browser: Browser, site: str) -> StorageState:
    """What a browser keeps of a visit at whose end the tests' own design lay on the table."""
    table = Table(browser, site, SCREENS["laptop"], PICTURES)
    table.wait_until_ready()
    table.drop("window.svg", window_svg())
    expect(table.openings).to_have_count(6)
    project = table.page.evaluate(OPEN_PROJECT)
    wait_until(table.page, KEPT_WHOLE, project)
    table.page.goto(f"{site}mark.svg")
    table.page.evaluate(FORGET_OTHERS, project)
    left = table.context.storage_state(indexed_db=True)
    table.close()
    return left


@pytest.fixture
def revisit(
    open_table: Callable[[str, StorageState | None], Table], left_window: StorageState
) -> Callable[[str], Table]:
    """Opens the page on a screen by its name, with the tests' own design as it was left last time."""

    def open_on(screen: str) -> Table:
        table = open_table(screen, left_window)
        expect(table.page.locator("[id^=opening-]")).to_have_count(6)
        return table

    return open_on


@pytest.fixture(scope="session")
def pages_left_open() -> Iterator[dict[str, Table]]:
    """Pages that stay open from test to test, by their screen."""
    tables: dict[str, Table] = {}
    yield tables
    for table in tables.values():
        table.close()


@pytest.fixture
def lay_anew(
    browser: Browser,
    site: str,
    left_window: StorageState,
    pages_left_open: dict[str, Table],
    request: pytest.FixtureRequest,
) -> Iterator[Callable[[str], Table]]:
    """Lays the tests' own design, as a new project, on a page of that screen that earlier tests had.

    Python starts once for all of them. For tests to which what was chosen before is all one, and which leave
    unit, language, ways to give, the side that is seen and what is in the browser as they were, and no dialog
    open.
    """
    failed = request.session.testsfailed
    used: dict[str, Table] = {}

    def lay_on(screen: str) -> Table:
        table = pages_left_open.pop(screen, None)
        if table is None:
            table = Table(browser, site, SCREENS[screen], PICTURES, left=left_window)
            table.wait_until_ready()
        else:
            table.lay_anew("window", window_svg())
        used[screen] = table
        expect(table.page.locator("[id^=opening-]")).to_have_count(6)
        return table

    yield lay_on
    for screen, table in used.items():
        faults = table.foreign_requests + table.complaints
        if faults or request.session.testsfailed > failed:
            table.close()
        else:
            expect(table.page.locator("dialog[open]"), "the next test's page is free").to_have_count(0)
            pages_left_open[screen] = table
        assert faults == []


@pytest.fixture(params=["tablet", "laptop"])
def screen(request: pytest.FixtureRequest) -> Screen:
    """The two screens on which every part of the main job is driven."""
    return SCREENS[request.param]
