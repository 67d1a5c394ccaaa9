"""What breaks on the way breaks nothing of the person's: each fault gets a sentence and a way on."""

from collections.abc import Callable
from random import Random

import pytest
from playwright.sync_api import Browser, Page, expect

from e2e.conftest import PICTURES
from e2e.own_site import OwnSite
from e2e.panels import window_svg
from e2e.table import SCREENS, Table

Visit = Callable[[str], Table]

ENDINGS = 16
ENDINGS_TO_A_WORKERS = 8
"""One in so many endings is the worker's, for which Python has to be there; the others are the page's."""
FULL = """const put = IDBObjectStore.prototype.put;
IDBObjectStore.prototype.put = function () { throw new DOMException("no room", "QuotaExceededError"); };"""
GONE = """const refuse = () => { throw new DOMException("not here", "SecurityError"); };
IDBFactory.prototype.open = refuse;
Object.defineProperty(window, "localStorage", {get: refuse});"""
# The next call ends as calls do when Python itself ends, or when it finds no more memory.
BREAKS = """([name, type]) => {
    const right = JSON.stringify;
    JSON.stringify = () => {
        JSON.stringify = right;
        throw Object.assign(new WebAssembly.RuntimeError("unreachable"), {name, type});
    };
}"""
# The browser ends the worker without a word, while it works; or it takes for ever to start it.
KEEP_WORKERS = """window.workers = [];
const nothing = URL.createObjectURL(new Blob([""]));
window.Worker = class extends Worker {
    constructor(source, options) {
        super(localStorage.getItem("starts-no-worker") ? nothing : source, options);
        window.workers.push(this);
    }
};"""
START_NONE = "localStorage.setItem('starts-no-worker', 'yes')"
START_AGAIN = "localStorage.removeItem('starts-no-worker')"
END_WORKER = "window.workers.at(-1).terminate()"
STARTED_ANEW = "The tools stopped and were started again."
CRASH = ["RuntimeError", ""]
MEMORY = ["PythonError", "MemoryError"]


@pytest.fixture
def window(revisit: Visit) -> Table:
    """A table with the tests' own design on it."""
    return revisit("laptop")


def press_opening(page: Page, number: int) -> None:
    """Give an opening what is in hand, by keyboard: number 1 is the first in the list."""
    openings = page.get_by_role("listbox", name="Openings of the design")
    openings.press("Home")
    for _ in range(number - 1):
        openings.press("ArrowRight" if number % 3 != 1 else "ArrowDown")
    openings.press("Enter")


def heard(page: Page) -> list[str]:
    """Return what a screen reader hears of all openings."""
    return page.locator("[id^=opening-]").all_text_contents()


@pytest.mark.parametrize("seed", [8, 9])
def test_the_project_comes_back_as_of_the_last_change_whatever_ends(window: Table, seed: int) -> None:
    window.context.add_init_script(KEEP_WORKERS)
    # The project needs no Python to come back, so that most endings need not wait for it.
    window.page.evaluate(START_NONE)
    chance = Random(seed)
    page = window.page
    for ending in range(1, ENDINGS + 1):
        window.page = page
        window.go("Papers")
        page.locator(".sheet").nth(chance.randrange(3)).click()
        openings = page.get_by_role("listbox", name="Openings of the design")
        for _ in range(chance.randint(1, 3)):
            openings.press(chance.choice(("Home", "End", "ArrowRight", "ArrowDown", "ArrowLeft")))
            openings.press("Enter")
        if chance.random() < 0.2:
            page.get_by_role("button", name="Undo").click()
        # The next frame says aloud what the project is now.
        window.wait_for_frames()
        before = heard(page)
        if ending % ENDINGS_TO_A_WORKERS == 0:
            window.wait_until_ready()
            page.evaluate(END_WORKER)
            expect(page.get_by_text(STARTED_ANEW)).to_be_visible()
            page.evaluate(START_NONE)
        elif ending % ENDINGS_TO_A_WORKERS == ENDINGS_TO_A_WORKERS - 1:
            page.evaluate(START_AGAIN)
            page.reload()
        elif chance.random() < 0.5:
            page.reload()
        else:
            left, page = page, window.context.new_page()
            left.close()
            page.goto(window.address)
        expect(page.locator("[id^=opening-]")).to_have_count(6)
        assert heard(page) == before, f"after ending {ending}"


def test_python_is_started_anew_and_the_page_goes_on(window: Table) -> None:
    told = window.page.locator(".notice", has_text=STARTED_ANEW)
    for fault in (CRASH, MEMORY):
        window.go("Papers")
        press_opening(window.page, 1)
        expect(window.opening(1)).not_to_contain_text("left open")
        window.page.workers[0].evaluate(BREAKS, fault)
        window.drop("window.svg", window_svg())
        expect(told).to_be_visible()
        expect(window.opening(1)).to_contain_text("left open")
        expect(window.openings).to_have_count(6)
        # It goes by itself.
        expect(told).to_have_count(0)


def test_a_worker_that_the_browser_ends_without_a_word_is_missed_and_started_anew(visit: Visit) -> None:
    table = visit("laptop")
    table.context.add_init_script(KEEP_WORKERS)
    table.page.reload()
    table.wait_until_ready()
    table.drop("window.svg", window_svg())
    table.page.evaluate(END_WORKER)
    expect(table.page.get_by_text(STARTED_ANEW)).to_be_visible()
    expect(table.openings).to_have_count(6)


@pytest.mark.parametrize(
    ("fault", "words"),
    [(FULL, "There is no room left in this browser"), (GONE, "This browser keeps nothing")],
    ids=["storage is full", "there is no storage"],
)
def test_a_browser_that_keeps_nothing_says_so_and_offers_a_file(visit: Visit, fault: str, words: str) -> None:
    table = visit("laptop")
    table.context.add_init_script(fault)
    table.page.reload()
    table.wait_until_ready()
    notice = table.page.locator(".notice", has_text=words)
    expect(notice).to_be_visible()
    with table.page.expect_download() as saved:
        notice.get_by_role("button", name="Save as a file").click()
    assert saved.value.suggested_filename.endswith(".json")
    table.press(table.page.locator("#menu-button"))
    table.press(table.page.locator("dialog[open]").get_by_text("Deutsch", exact=True))
    asked = table.page.get_by_role("dialog", name="Load the page again?")
    expect(asked).to_contain_text("what you changed would be lost")
    table.press(asked.get_by_role("button", name="Load it all the same"))
    expect(table.page.get_by_role("button", name="Papiere", exact=True)).to_be_visible()


def test_what_fails_while_python_loads_is_told_and_tried_again(browser: Browser, own_site: OwnSite) -> None:
    wheel = next(path.name for path in (own_site.folder / "runtime").glob("shapely-*.whl"))
    right = (own_site.folder / "runtime" / wheel).read_bytes()
    own_site.replace(f"runtime/{wheel}", right[:-1] + b"?")
    table = Table(browser, own_site.address, SCREENS["laptop"], PICTURES)
    trouble = table.page.get_by_text("The tools could not be fetched")
    again = table.page.get_by_role("button", name="Try again")
    expect(trouble).to_contain_text("arrived with another content")
    expect(table.openings.first).to_be_attached()
    own_site.remove(f"runtime/{wheel}")
    again.click()
    expect(trouble).to_contain_text("404")
    own_site.replace(f"runtime/{wheel}", right)
    own_site.switch_off()
    again.click()
    expect(trouble).to_contain_text("Check the connection")
    own_site.switch_on()
    table.page.evaluate("dispatchEvent(new Event('online'))")
    table.wait_until_ready()
    expect(table.page.locator(".notice")).to_have_count(0)
    table.close()


def test_a_page_whose_words_do_not_come_says_so(browser: Browser, own_site: OwnSite) -> None:
    own_site.remove("words/en.json")
    table = Table(browser, own_site.address, SCREENS["laptop"], PICTURES)
    expect(table.page.get_by_text("check the connection, then load the page again")).to_be_visible()
    table.close()
