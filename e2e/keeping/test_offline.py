"""The site stays on the device after the first visit, and a newer one never comes in the middle of work."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, expect

from e2e.conftest import PICTURES
from e2e.job.test_brought import window_dxf
from e2e.job.test_bundles import window_pdf
from e2e.own_site import OwnSite
from e2e.panels import window_svg
from e2e.table import SCREENS, Table

KEPT = "navigator.serviceWorker.ready.then(() => true)"
EVERY_FILE = """fetch("files.json").then((answer) => answer.json()).then(({files}) =>
    Promise.all(files.map(({path}) => fetch(path).then((answer) => answer.ok, () => false)))
).then((came) => came.filter((each) => !each).length)"""
LOOK_FOR_NEWER = "navigator.serviceWorker.getRegistration().then((each) => each.update()).then(() => true)"
SETTLED = "navigator.serviceWorker.getRegistration().then((each) => !each.installing)"
VERSIONS = "caches.keys().then((names) => names.length)"


@pytest.fixture
def table(browser: Browser, own_site: OwnSite) -> Iterator[Table]:
    """A table on a device that keeps the site."""
    opened = Table(browser, own_site.address, SCREENS["laptop"], PICTURES, keeps_site=True)
    yield opened
    opened.close()
    assert opened.foreign_requests == []


def test_one_visit_is_enough_to_work_without_a_connection_and_to_change_over_when_asked(
    table: Table, own_site: OwnSite
) -> None:
    page = table.page
    table.wait_until_ready()
    assert page.evaluate(KEPT)
    twice = {path: times for path, times in own_site.sent.items() if times > 1}
    assert twice == {}, "nothing is sent twice"

    own_site.switch_off()
    page.reload()
    table.wait_until_ready()
    # The parts that read other kinds of files are there, too, though nobody asked for them before.
    for name, file, openings in (("panel.dxf", window_dxf(5), 5), ("panel.pdf", window_pdf(4), 4)):
        table.drop_files({name: file})
        expect(table.openings).to_have_count(openings)
    table.drop("window.svg", window_svg())
    expect(table.openings).to_have_count(6)
    assert page.evaluate(EVERY_FILE) == 0, "each file of the site is there, those for the sheets too"

    own_site.switch_on()
    own_site.publish("mark.svg", b"<svg/>", listed=b"what should have come")
    page.evaluate(f"{LOOK_FOR_NEWER}.catch(() => true)")
    wait_for(table, SETTLED)
    assert page.evaluate(VERSIONS) == 1
    expect(page.get_by_text("A newer Peekpaper is here.")).to_have_count(0)

    own_site.sent.clear()
    newer = (own_site.folder / "index.html").read_bytes().replace(b"<body>", b'<body data-newer="yes">')
    own_site.publish("mark.svg", b'<svg xmlns="http://www.w3.org/2000/svg"/>')
    own_site.publish("index.html", newer)
    page.evaluate(LOOK_FOR_NEWER)
    expect(page.get_by_text("A newer Peekpaper is here.")).to_be_visible()
    assert set(own_site.sent) == {"/files.json", "/service-worker.js", "/index.html", "/mark.svg"}
    assert page.locator("body").get_attribute("data-newer") is None, "the page goes on as it is"
    table.go("Papers")
    page.locator(".sheet").first.click()
    openings = page.get_by_role("listbox", name="Openings of the design")
    openings.press("Home")
    openings.press("Enter")
    expect(table.opening(1)).not_to_contain_text("left open")
    given = table.openings.all_text_contents()
    page.get_by_role("button", name="Change over").click()
    expect(page.locator("body")).to_have_attribute("data-newer", "yes")
    expect(table.openings).to_have_count(6)
    expect(table.openings).to_have_text(given)
    wait_for(table, f"{VERSIONS}.then((count) => count === 1)")


def wait_for(table: Table, condition: str) -> None:
    """Wait until a promise of the page gives true."""
    for _ in range(200):
        if table.page.evaluate(condition):
            return
        table.page.wait_for_timeout(50)
    raise AssertionError(condition)
