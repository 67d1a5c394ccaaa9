"""What is made is kept: between tabs, over full storage, through versions; and goes out by the device."""

import json
import re
import string
from collections.abc import Callable
from pathlib import Path
from random import Random
from typing import Any
from urllib.parse import urljoin

from playwright.sync_api import Locator, Page, Route, expect

from e2e.job.test_glue_up import backed, glue
from e2e.panels import window_svg
from e2e.table import Table, wait_until

Visit = Callable[[str], Table]

OTHER_TAB = "This project was opened in another tab"
MOST_VERSIONS = 10
PICTURE = "the-picture-of-a-paper"
KEEP_PICTURE = """async (key) => {
    const canvas = new OffscreenCanvas(4, 4);
    canvas.getContext("2d").fillRect(0, 0, 4, 4);
    const picture = await canvas.convertToBlob();
    const opening = indexedDB.open("peekpaper");
    await new Promise((done) => { opening.onsuccess = done; });
    const transaction = opening.result.transaction("pictures", "readwrite");
    transaction.objectStore("pictures").put(picture, key);
    await new Promise((done) => { transaction.oncomplete = done; });
    opening.result.close();
}"""
KEPT = """async ([id, key]) => {
    const opening = indexedDB.open("peekpaper");
    await new Promise((done) => { opening.onsuccess = done; });
    const stores = ["projects", "steps", "versions", "pictures"];
    const transaction = opening.result.transaction(stores);
    const all = stores.map((name) => transaction.objectStore(name).getAll());
    const picture = transaction.objectStore("pictures").getKey(key);
    await new Promise((done) => { transaction.oncomplete = done; });
    opening.result.close();
    const [projects, steps, versions] = all.map(({ result }) => result);
    const mine = projects.some((each) => each.id === id);
    const behind = [...steps, ...versions].some(({ project }) => project === id);
    return { mine: mine || behind, picture: picture.result === key };
}"""
# The openings that are backed in the open project as it was last kept, whole or by a step.
NOTED_OPEN = """async () => {
    const opening = indexedDB.open("peekpaper");
    await new Promise((done) => { opening.onsuccess = done; });
    const transaction = opening.result.transaction("open");
    const noted = transaction.objectStore("open").get("open");
    await new Promise((done) => { transaction.oncomplete = done; });
    opening.result.close();
    return noted.result === localStorage.getItem("peekpaper-last");
}"""
KEPT_BACKED = """async () => {
    const id = localStorage.getItem("peekpaper-last");
    // Whoever opens it first makes it, and that is the page.
    if ((await indexedDB.databases()).length === 0) return "none";
    const opening = indexedDB.open("peekpaper");
    await new Promise((done) => { opening.onsuccess = done; });
    const transaction = opening.result.transaction(["projects", "steps"]);
    const project = transaction.objectStore("projects").get(id);
    const steps = transaction.objectStore("steps").getAll(IDBKeyRange.bound([id], [id, Infinity]));
    await new Promise((done) => { transaction.oncomplete = done; });
    opening.result.close();
    if (!project.result) return "none";
    const { colourways } = steps.result.at(-1)?.decisions ?? project.result.course.document;
    return Object.keys(colourways[0].papers).join();
}"""
# The document as the page of version 0.1.0 kept it, with no views that a later one has.
AGED = """async (id) => {
    const opening = indexedDB.open("peekpaper");
    await new Promise((done) => { opening.onsuccess = done; });
    const transaction = opening.result.transaction(["projects", "versions"], "readwrite");
    const aged = ({ mends, ticked_bits, ...rest }) => ({ ...rest, version: 1 });
    const projects = transaction.objectStore("projects");
    projects.get(id).onsuccess = ({ target: { result } }) => {
        const { document, past, future } = result.course;
        const course = { document: aged(document), past: past.map(aged), future: future.map(aged) };
        const { form, ...kept } = result;
        projects.put({ ...kept, course });
    };
    transaction.objectStore("versions").openCursor().onsuccess = ({ target: { result } }) => {
        if (!result) return;
        result.update({ ...result.value, document: aged(result.value.document) });
        result.continue();
    };
    await new Promise((done) => { transaction.oncomplete = done; });
    opening.result.close();
}"""
# A save that breaks off halfway, as it does where storage fills up.
BREAKS_OFF = """const put = IDBObjectStore.prototype.put;
IDBObjectStore.prototype.put = function (...what) {
    if (window.storageIsFull === "quite") throw new DOMException("no room", "QuotaExceededError");
    const request = put.apply(this, what);
    if (window.storageIsFull) this.transaction.abort();
    return request;
};"""
# Notes the page's connections to the database, so that they can be closed under it; opens none on demand.
LOSES_CONNECTIONS = """window.connections = [];
const open = IDBFactory.prototype.open;
IDBFactory.prototype.open = function (...what) {
    if (window.opensNone) throw new DOMException("can't be opened", "UnknownError");
    const asked = open.apply(this, what);
    asked.addEventListener("success", () => window.connections.push(asked.result));
    return asked;
};"""
TABLET = """navigator.canShare = () => true;
navigator.share = (what) => { window.shared = what; return Promise.resolve(); };
window.awake = 0;
Object.defineProperty(navigator, "wakeLock", { value: { request: async () => {
    window.awake += 1;
    return { release: async () => { window.awake -= 1; } };
} } });"""


def lay(revisit: Visit) -> Table:
    """Pick the first paper for the tests' own design."""
    table = revisit("laptop")
    hold_paper(table.page)
    return table


def hold_paper(page: Page) -> None:
    page.get_by_role("navigation").get_by_role("button", name="Papers", exact=True).click()
    page.locator(".sheet").first.click()


def give(page: Page, number: int) -> None:
    """Give one of the three upper openings the paper in hand."""
    openings = page.get_by_role("listbox", name="Openings of the design")
    openings.press("Home")
    for _ in range(number - 1):
        openings.press("ArrowRight")
    openings.press("Enter")
    expect(page.locator(f"#opening-{number}")).not_to_contain_text("left open")


def expect_backed(page: Page, *numbers: int) -> None:
    """Expect these of the three upper openings to be backed and the others open."""
    for number in (1, 2, 3):
        opening = page.locator(f"#opening-{number}")
        if number in numbers:
            expect(opening).not_to_contain_text("left open")
        else:
            expect(opening).to_contain_text("left open")


def expect_kept(page: Page, *numbers: int) -> None:
    """Expect these openings to be backed in what the browser keeps of the open project."""
    wait_until(page, f"async (numbers) => (await ({KEPT_BACKED})()) === numbers", ",".join(map(str, numbers)))


def saved(table: Table) -> dict[str, Any]:
    """Save the open project as a file; return what is in it."""
    table.page.locator("#menu-button").click()
    with table.page.expect_download() as waiting:
        table.page.get_by_role("button", name="Save as a file").click()
    document: dict[str, Any] = json.loads(Path(waiting.value.path()).read_text())
    return document


def more_of(page: Page, name: str) -> Locator:
    """Open the menu and what there is to do with one kept project; return the menu's entry of it."""
    page.locator("#menu-button").click()
    entry = page.locator(".kept", has=page.locator("strong", has_text=re.compile(f"^{name}$")))
    entry.get_by_role("button", name="versions and more").click()
    return entry


def test_two_tabs_never_write_over_each_other_unreachably(revisit: Visit) -> None:
    table = lay(revisit)
    first = table.page
    give(first, 1)
    second = table.context.new_page()
    second.goto(table.address)
    expect_backed(second, 1)
    expect(first.get_by_text(OTHER_TAB)).to_be_visible()
    hold_paper(second)
    give(second, 2)
    give(first, 3)
    expect_backed(second, 1, 2)
    first.get_by_role("button", name="Go on here").click()
    expect(second.get_by_text(OTHER_TAB)).to_be_visible()
    expect_backed(first, 1, 3)
    first.get_by_role("button", name="Undo").click()
    expect_backed(first, 1, 2)
    first.reload()
    expect_backed(first, 1, 2)
    mine = [saved(table)["id"], PICTURE]
    more_of(first, "window")
    first.get_by_role("button", name="Forget this project on this computer").click()
    first.get_by_role("button", name="Forget it").click()
    expect(first.locator("#project-name")).not_to_have_text("window")
    second.get_by_role("button", name="Go on here").click()
    keep_again = second.get_by_role("button", name="Keep it again")
    expect(keep_again).to_be_visible()
    assert not second.evaluate(KEPT, mine)["mine"]
    keep_again.click()
    wait_until(second, f"async (mine) => (await ({KEPT})(mine)).mine", mine)
    first.keyboard.press("Escape")
    first.locator("#menu-button").click()
    first.locator(".kept .tile", has_text="window").click()
    expect(second.get_by_text(OTHER_TAB)).to_be_visible()
    second.locator("#menu-button").click()
    second.get_by_role("button", name="The demo").click()
    expect(second.get_by_text(OTHER_TAB), "the demo is kept").to_have_count(0)


def test_a_save_that_breaks_off_leaves_the_last_good_state(revisit: Visit) -> None:
    table = revisit("laptop")
    table.context.add_init_script(BREAKS_OFF)
    table.page.reload()
    expect(table.openings).to_have_count(6)
    page = table.page
    hold_paper(page)
    give(page, 1)
    expect_kept(page, 1)
    # As where the device ends the browser, which writes this down some seconds later.
    page.evaluate("localStorage.clear()")
    page.reload()
    expect_backed(page, 1)
    hold_paper(page)
    page.evaluate("window.storageIsFull = true")
    give(page, 2)
    notice = page.locator(".notice", has_text="This browser keeps nothing")
    expect(notice.get_by_role("button", name="Save as a file")).to_be_visible()
    expect_backed(page, 1, 2)
    page.reload()
    expect_backed(page, 1)
    expect(notice).to_have_count(0)
    hold_paper(page)
    no_room = page.locator(".notice", has_text="There is no room left")
    for is_full, number in (("quite", 2), (False, 3)):
        page.evaluate("(is) => { window.storageIsFull = is; }", is_full)
        give(page, number)
        expect(no_room).to_have_count(1 if is_full else 0)
    expect_backed(page, 1, 2, 3)
    # What was opened while there was no room is what comes back once there is.
    page.evaluate("window.storageIsFull = 'quite'")
    table.drop("second.svg", window_svg())
    expect(page.locator("#project-name")).to_have_text("second")
    table.go("Papers")
    expect(no_room).to_have_count(1)
    page.evaluate("window.storageIsFull = false")
    hold_paper(page)
    give(page, 1)
    expect_kept(page, 1)
    expect(no_room).to_have_count(0)
    # Which project is open is noted beside it, not with it.
    wait_until(page, NOTED_OPEN)
    page.reload()
    expect(page.locator("#project-name")).to_have_text("second")
    expect_backed(page, 1)


def test_a_lost_database_is_opened_again_and_loses_nothing(revisit: Visit) -> None:
    table = revisit("laptop")
    table.context.add_init_script(LOSES_CONNECTIONS)
    page = table.page
    page.reload()
    hold_paper(page)
    notice = page.locator(".notice")
    page.evaluate("connections.forEach((each) => each.close())")
    give(page, 1)
    expect_kept(page, 1)
    page.evaluate("connections.forEach((each) => each.close()); window.opensNone = true;")
    give(page, 2)
    expect(notice.filter(has_text="This browser keeps nothing")).to_be_visible()
    page.evaluate("window.opensNone = false")
    give(page, 3)
    expect_kept(page, 1, 2, 3)
    expect(notice).to_have_count(0)
    # As "clear site data" does while the page is open: the whole project is kept anew, not a step alone.
    devtools = table.context.new_cdp_session(page)
    origin = {"origin": page.evaluate("location.origin"), "storageTypes": "indexeddb"}
    devtools.send("Storage.clearDataForOrigin", origin)
    page.get_by_role("button", name="Undo").click()
    expect_kept(page, 1, 2)
    page.reload()
    expect_backed(page, 1, 2)
    assert table.complaints == []


def test_a_project_kept_by_the_first_page_opens_goes_back_and_goes_on(revisit: Visit) -> None:
    table = lay(revisit)
    page = table.page
    hold_paper(page)
    give(page, 1)
    give(page, 2)
    expect_backed(page, 1, 2)
    project = page.evaluate("localStorage.getItem('peekpaper-last')")
    # Elsewhere on the site no page of its own writes meanwhile.
    address = page.url
    page.goto(urljoin(address, "mark.svg"))
    page.evaluate(AGED, project)
    page.goto(address)
    table.wait_until_ready()
    expect(page.get_by_role("heading", name="6 openings")).to_be_visible()
    expect(page.locator(".findings, .check-good").first).to_be_visible()
    table.go("Papers")
    expect_backed(page, 1, 2)
    table.press(page.get_by_role("button", name="Undo"))
    expect(table.opening(2)).to_contain_text("left open")
    expect_backed(page, 1)
    table.go("Glue-up")
    glue(table)
    table.press(page.get_by_role("button", name="Glued", exact=True))
    expect(page.get_by_role("region", name="Next piece")).to_contain_text("All glued")


def test_versions_undo_and_forgetting(revisit: Visit) -> None:
    table = lay(revisit)
    page = table.page
    bare = saved(table)
    paper = bare["shelf"]["papers"][0]
    paper |= {"picture": PICTURE, "picture_width_mm": 50.0}
    page.evaluate(KEEP_PICTURE, PICTURE)
    given = json.loads(json.dumps(bare))
    given["colourways"][0]["papers"] = {"1": paper["id"]}
    for turn in range(MOST_VERSIONS + 2):
        table.drop("window.json", json.dumps(bare if turn % 2 else given))
        expect_backed(page, *(() if turn % 2 else (1,)))
    more_of(page, "window")
    versions = page.locator(".version")
    expect(versions).to_have_count(MOST_VERSIONS)
    earlier = versions.filter(has_text="1 opening backed").first
    earlier.get_by_role("button", name="Go back to it").click()
    expect_backed(page, 1)
    page.get_by_role("button", name="Undo").click()
    expect_backed(page)
    page.reload()
    expect_backed(page)
    page.get_by_role("button", name="Undo").click()
    expect_backed(page, 1)
    page.get_by_role("button", name="Redo").click()
    expect_backed(page)
    mine = [bare["id"], PICTURE]
    more_of(page, "window")
    page.get_by_role("button", name="Make a copy").click()
    page.get_by_role("button", name=re.compile("versions and more of “window, copy”")).click()
    page.get_by_label("Name", exact=True).fill("second")
    for key in ("Tab", "Escape"):
        page.keyboard.press(key)
    expect(page.get_by_role("button", name=re.compile("versions and more of “second”"))).to_be_focused()
    for name, picture_stays in (("second", True), ("window", False)):
        page.get_by_role("button", name=re.compile(f"versions and more of “{name}”")).click()
        page.get_by_role("button", name="Forget this project on this computer").click()
        page.get_by_role("button", name="Forget it").click()
        expect(page.locator(".kept strong", has_text=re.compile(f"^{name}$"))).to_have_count(0)
        kept = page.evaluate(KEPT, mine)
        assert kept == {"mine": picture_stays, "picture": picture_stays}
    expect(page.locator("#project-name")).not_to_have_text("window")


def test_what_cannot_be_opened_leaves_what_is_open_and_what_can_leaves_nothing_of_it(revisit: Visit) -> None:
    table = lay(revisit)
    page = table.page
    give(page, 1)
    whole = saved(table)
    without = {name: value for name, value in whole.items() if name != "source"}
    for change, sentence in (
        (json.dumps({**whole, "version": 99}), "saved by a newer Peekpaper"),
        (json.dumps(without), "source"),
        (json.dumps({**whole, "shelf": {"papers": "foreign"}}), "shelf"),
        (json.dumps(whole)[:-40], "cut off"),
    ):
        table.drop("window.json", change)
        notice = page.locator(".notice", has_text=sentence)
        expect(notice).to_be_visible()
        notice.get_by_role("button", name="Close").click()
        expect_backed(page, 1)
    chance = Random(6)
    noise = "".join(chance.choices(string.ascii_letters, k=90_000))
    large = window_svg().replace("<path", f"<desc>{noise}</desc><path")
    table.go("Mats")
    trims = page.locator(".trim-row")
    expect(trims).not_to_have_count(0)
    table.drop("large.svg", large)
    expect(page.locator("#project-name")).to_have_text("large")
    table.go("Mats")
    expect(trims).to_have_count(0)
    page.locator("#menu-button").click()
    page.get_by_role("button", name="Link for a friend").click()
    dialog = page.get_by_role("dialog", name="Link for a friend")
    expect(dialog).to_contain_text("too large for a link")
    with page.expect_download() as waiting:
        dialog.get_by_role("button", name="Save as a file").click()
    assert json.loads(Path(waiting.value.path()).read_text())["source"]["svg"] == large
    expect(trims).to_have_count(0)


def test_a_tablet_shares_stays_awake_and_stops_writing(revisit: Visit) -> None:
    table = revisit("tablet")
    table.context.add_init_script(TABLET)
    table.page.reload()
    expect(table.openings).to_have_count(6)
    held: list[Route] = []

    def hold(route: Route) -> None:
        held.append(route)

    table.context.route(re.compile("ezdxf"), hold)
    page = backed(table).page
    take = page.get_by_role("button", name="Take the sheets")
    expect(take).to_be_enabled()
    table.press(take)
    expect(page.get_by_text("Fetching the file writers")).to_be_visible()
    table.press(page.get_by_role("button", name="Stop", exact=True))
    expect(page.get_by_text("Stopped. Nothing was taken.")).to_be_visible()
    for route in held:
        route.continue_()
    table.context.unroute(re.compile("ezdxf"))
    table.press(take)
    everything = page.get_by_role("button", name=re.compile(r"Share .*\.zip"))
    table.press(everything)
    page.wait_for_function("window.shared?.files?.[0].name === 'window sheets.zip'")
    page.locator("#menu-button").click()
    page.get_by_role("button", name="Link for a friend").click()
    page.get_by_role("button", name="Share", exact=True).click()
    page.wait_for_function("/#p=/.test(window.shared.url)")
    page.get_by_role("button", name="Close").last.click()
    glue(table)
    page.wait_for_function("window.awake === 1")
    table.go("Papers")
    page.wait_for_function("window.awake === 0")
