"""What the device hands over: the share sheet's file, what is pasted, and what it takes to be installed."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, expect

from e2e.conftest import PICTURES
from e2e.made_papers import grid_svg
from e2e.panels import window_svg
from e2e.table import SCREENS, Table

SHARE = """([address, name, text, hides]) => {
    const data = new DataTransfer();
    data.items.add(new File([text], name, {type: "image/svg+xml"}));
    const form = document.createElement("form");
    Object.assign(form, {method: "POST", enctype: "multipart/form-data", action: address});
    const input = document.createElement("input");
    form.append(Object.assign(input, {type: "file", name: "file", files: data.files}));
    const policy = document.createElement("meta");
    Object.assign(policy, {name: "referrer", content: hides ? "no-referrer" : "origin"});
    document.head.append(policy);
    document.body.append(form);
    form.submit();
}"""
"""Sends a file by a form on another page, which tells where it comes from or, as the device does, nothing."""

PASTE = """([name, text]) => {
    const data = new DataTransfer();
    if (name) data.items.add(new File([text], name, {type: "image/svg+xml"}));
    else data.setData("text/plain", text);
    const pasted = {clipboardData: data, bubbles: true, cancelable: true};
    document.activeElement.dispatchEvent(new ClipboardEvent("paste", pasted));
}"""
"""Pastes a file by its name, or text."""


@pytest.fixture
def table(browser: Browser, site: str) -> Iterator[Table]:
    opened = Table(browser, site, SCREENS["tablet"], PICTURES, keeps_site=True)
    yield opened
    opened.close()
    assert opened.foreign_requests == []
    assert opened.complaints == []


def test_a_design_that_is_shared_or_pasted_is_opened_and_the_page_can_be_installed(table: Table) -> None:
    page = table.page
    table.wait_until_ready()
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    page.reload()
    table.wait_until_ready()
    shared = f"{table.address}shared"
    elsewhere = f"{table.address.replace('127.0.0.1', 'localhost')}files.json"
    page.goto(elsewhere)
    page.evaluate(SHARE, [shared, "grid.svg", grid_svg(3, 3), False])
    page.wait_for_url(table.address)
    assert page.evaluate("caches.has('shared with peekpaper')") is False
    page.goto(elsewhere)
    page.evaluate(SHARE, [shared, "window.svg", window_svg(), True])
    expect(table.openings).to_have_count(6)
    # What was asked for elsewhere is the other page itself.
    assert set(table.foreign_requests) == {elsewhere}
    table.foreign_requests.clear()
    assert "shared" not in page.url
    page.reload()
    expect(table.openings).to_have_count(6)
    page.evaluate(PASTE, ["", f"Look at this: {grid_svg(3, 3)}"])
    expect(table.openings).to_have_count(9)
    page.evaluate(PASTE, ["grid.svg", grid_svg(4, 3)])
    expect(table.openings).to_have_count(12)
    page.evaluate(PASTE, ["", "no design at all"])
    devtools = table.context.new_cdp_session(page)
    manifest = devtools.send("Page.getAppManifest")
    assert manifest["errors"] == []
    # Chromium installs nothing from a profile that is forgotten afterwards, as a test's is.
    found = devtools.send("Page.getInstallabilityErrors")["installabilityErrors"]
    assert {each["errorId"] for each in found} <= {"in-incognito"}
    expect(table.openings).to_have_count(12)
