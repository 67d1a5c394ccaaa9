"""What the device hands over: the share sheet's file, and what it takes to be installed."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, expect

from e2e.conftest import PICTURES
from e2e.panels import window_svg
from e2e.table import SCREENS, Table

SHARE = """async ([name, text]) => {
    await navigator.serviceWorker.ready;
    const form = new FormData();
    form.append("file", new File([text], name, {type: "image/svg+xml"}));
    return (await fetch("shared", {method: "POST", body: form})).url;
}"""


@pytest.fixture
def table(browser: Browser, site: str) -> Iterator[Table]:
    opened = Table(browser, site, SCREENS["tablet"], PICTURES, keeps_site=True)
    yield opened
    opened.close()
    assert opened.foreign_requests == []
    assert opened.complaints == []


def test_a_design_sent_by_the_share_sheet_is_opened_and_the_page_can_be_installed(table: Table) -> None:
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
    devtools = table.context.new_cdp_session(page)
    manifest = devtools.send("Page.getAppManifest")
    assert manifest["errors"] == []
    # Chromium installs nothing from a profile that is forgotten afterwards, as a test's is.
    found = devtools.send("Page.getInstallabilityErrors")["installabilityErrors"]
    assert {each["errorId"] for each in found} <= {"in-incognito"}
