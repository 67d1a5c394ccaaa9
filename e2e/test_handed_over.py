"""What the device hands over: the share sheet's file, what is pasted, and what it takes to be installed."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, expect

from e2e.conftest import PICTURES
from e2e.made_papers import grid_svg
from e2e.panels import window_svg
from e2e.table import SCREENS, Table

SHARE = """async ([name, text]) => {
    await navigator.serviceWorker.ready;
    const form = new FormData();
    form.append("file", new File([text], name, {type: "image/svg+xml"}));
    return (await fetch("shared", {method: "POST", body: form})).url;
}"""

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
    opened = page.evaluate(SHARE, ["window.svg", window_svg()])
    assert opened.endswith("/?shared")
    page.goto(opened)
    expect(table.openings).to_have_count(6)
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
