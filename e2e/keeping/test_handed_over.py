"""What the device hands over: the share sheet's file, what is pasted, and what it takes to be installed."""

from base64 import b64encode
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, expect

from e2e.conftest import PICTURES
from e2e.keeping.test_travel import packed, saved_project
from e2e.made_papers import grid_svg
from e2e.panels import window_svg
from e2e.table import SCREENS, Table

SHARE = """([address, files, hides]) => {
    const data = new DataTransfer();
    for (const [name, type, coded] of files) {
        const bytes = Uint8Array.from(atob(coded), (each) => each.charCodeAt(0));
        data.items.add(new File([bytes], name, {type}));
    }
    const form = document.createElement("form");
    Object.assign(form, {method: "POST", enctype: "multipart/form-data", action: address});
    const input = document.createElement("input");
    form.append(Object.assign(input, {type: "file", name: "file", multiple: true, files: data.files}));
    const policy = document.createElement("meta");
    Object.assign(policy, {name: "referrer", content: hides ? "no-referrer" : "origin"});
    document.head.append(policy);
    document.body.append(form);
    form.submit();
}"""
"""Sends files by a form on another page, which tells where it comes from or, as the device does, nothing."""

OPENS_WITH = """Object.defineProperty(window, "launchQueue", {
    value: { setConsumer: (take) => { window.launch = take; } },
})"""
OPEN_WITH = """(files) => window.launch({ files: files.map(([name, type, coded]) => ({
    name,
    getFile: async () => new File([Uint8Array.from(atob(coded), (each) => each.charCodeAt(0))], name, {type}),
})) })"""
"""Hands files over as a device does where the person opens them with the page."""

PASTE = """([name, text]) => {
    const data = new DataTransfer();
    if (name) data.items.add(new File([text], name, {type: "image/svg+xml"}));
    else data.setData("text/plain", text);
    const pasted = {clipboardData: data, bubbles: true, cancelable: true};
    document.activeElement.dispatchEvent(new ClipboardEvent("paste", pasted));
}"""
"""Pastes a file by its name, or text."""


def coded(name: str, data: bytes) -> tuple[str, str, str]:
    """Return a file's name, its type and its bytes in base64."""
    kind = "application/zip" if name.endswith(".zip") else "image/svg+xml"
    return name, kind, b64encode(data).decode()


@pytest.fixture
def table(browser: Browser, site: str) -> Iterator[Table]:
    opened = Table(browser, site, SCREENS["tablet"], PICTURES, keeps_site=True)
    yield opened
    opened.close()
    assert opened.foreign_requests == []
    assert opened.complaints == []


def test_a_design_that_is_shared_or_pasted_is_opened_and_the_page_can_be_installed(table: Table) -> None:
    page = table.page
    page.add_init_script(OPENS_WITH)
    table.wait_until_ready()
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    page.reload()
    table.wait_until_ready()
    shared = f"{table.address}shared"
    elsewhere = f"{table.address.replace('127.0.0.1', 'localhost')}files.json"
    page.goto(elsewhere)
    page.evaluate(SHARE, [shared, [coded("grid.svg", grid_svg(3, 3).encode())], False])
    page.wait_for_url(table.address)
    assert page.evaluate("caches.has('shared with peekpaper')") is False
    page.goto(elsewhere)
    page.evaluate(SHARE, [shared, [coded("window.svg", window_svg().encode())], True])
    expect(table.openings).to_have_count(6)
    saved = packed({"project.json": saved_project(table)})
    page.goto(elsewhere)
    both = [coded("window project.zip", saved), coded("grid.svg", grid_svg(3, 3).encode())]
    page.evaluate(SHARE, [shared, both, True])
    expect(page.locator("#project-name")).to_have_text("window")
    expect(page.locator(".notice", has_text="grid.svg was left")).to_be_visible()
    assert page.evaluate("caches.open('shared with peekpaper').then((kept) => kept.keys())") == []
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
    page.evaluate(OPEN_WITH, both)
    expect(table.openings).to_have_count(6)
    expect(page.locator(".notice", has_text="grid.svg was left")).to_be_visible()
    page.evaluate(OPEN_WITH, [coded("notes.zip", packed({"notes.txt": b"milk, bread"}))])
    expect(page.locator(".notice", has_text="notes.zip")).to_contain_text("There is no design in it")
    expect(table.openings).to_have_count(6)
    devtools = table.context.new_cdp_session(page)
    manifest = devtools.send("Page.getAppManifest")
    assert manifest["errors"] == []
    # Chromium installs nothing from a profile that is forgotten afterwards, as a test's is.
    found = devtools.send("Page.getInstallabilityErrors")["installabilityErrors"]
    assert {each["errorId"] for each in found} <= {"in-incognito"}
    expect(table.openings).to_have_count(6)
