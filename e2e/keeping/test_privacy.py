"""Nothing leaves the page: the whole job asks for its own files alone, and could ask for nothing else."""

from pathlib import Path

from playwright.sync_api import Browser, expect

from e2e.conftest import PICTURES
from e2e.own_site import OwnSite
from e2e.panels import window_svg
from e2e.table import SCREENS, Table

ELSEWHERE = """async (address) => {
    const socket = (fail) => void (new WebSocket(address.replace("http", "ws")).onerror = fail);
    const ways = [
        () => fetch(address),
        () => fetch(address, {method: "POST", body: "x", mode: "no-cors"}),
        () => import(address),
        () => new Promise((_, fail) => socket(fail)),
    ];
    const tried = ways.map((way) => Promise.resolve().then(way).then(() => false, () => true));
    return (await Promise.all(tried)).every(Boolean);
}"""


def test_the_whole_job_asks_for_the_pages_own_files_and_the_page_can_ask_for_nothing_else(
    browser: Browser, own_site: OwnSite, tmp_path: Path, site_folder: Path
) -> None:
    elsewhere = OwnSite(site_folder, tmp_path / "elsewhere")
    table = Table(browser, own_site.address, SCREENS["laptop"], PICTURES, keeps_site=True)
    asked: list[tuple[str, str, bytes | None]] = []
    table.context.on("request", lambda made: asked.append((made.method, made.url, made.post_data_buffer)))
    table.wait_until_ready()
    table.drop("window.svg", window_svg())
    expect(table.openings).to_have_count(6)
    table.go("Papers")
    openings = table.page.get_by_role("listbox", name="Openings of the design")
    table.page.locator(".sheet").first.click()
    openings.press("Home")
    openings.press("Enter")
    expect(table.opening(1)).not_to_contain_text("left open")
    table.go("Glue-up")
    table.page.get_by_role("button", name="Take the sheets").click()
    expect(table.page.locator("a.file").first).to_be_visible()
    table.page.evaluate("navigator.serviceWorker.ready.then(() => true)")

    own = (own_site.address, f"blob:{own_site.address}", "data:")
    assert [each for each in asked if not each[1].startswith(own)] == []
    assert {method for method, _, _ in asked} <= {"GET", "HEAD"}
    assert [each for each in asked if each[2]] == [], "nothing is sent along"
    assert {method for method, _ in own_site.asked} <= {"GET", "HEAD"}
    assert not [path for _, path in own_site.asked if "?" in path], "nor in an address"

    assert table.page.evaluate(ELSEWHERE, elsewhere.address)
    assert table.page.workers[0].evaluate(ELSEWHERE, elsewhere.address)
    assert elsewhere.asked == []
    table.close()
    elsewhere.switch_off()
