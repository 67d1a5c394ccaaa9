"""How long all sheets of 200 openings take in the page, the first time and again."""

import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import expect, sync_playwright

from table import Row

sys.path.append(str(Path(__file__).parents[2]))

from e2e.table import PATIENCE_MS, SCREENS, Table

from workshop.browser import ARGUMENTS, browser_path
from workshop.site.build import build_site
from workshop.site.serve import served

COLUMNS, ROWS, PITCH_MM, HOLE_MM = 20, 10, 14.0, 10.0


def main() -> Iterator[Row]:
    """Yield the figures."""
    expect.set_options(timeout=PATIENCE_MS)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        site = Path(folder) / "site"
        build_site(site, lambda _: None)
        browser = playwright.chromium.launch(executable_path=browser_path(), args=list(ARGUMENTS))
        with served(site) as address:
            table = Table(browser, address, SCREENS["laptop"], Path(folder))
            lay_out(table)
            first, count = taken(table)
            again, _ = taken(table)
            table.close()
        browser.close()
    yield Row("page", "all files, 200 openings, first time", first, "s", 5.0, note=f"{count} files")
    yield Row("page", "all files, 200 openings, again", again, "s", 5.0, note=f"{count} files")


def lay_out(table: Table) -> None:
    """Bring in the design, back every opening, and wait for the plan."""
    page = table.page
    table.wait_until_ready()
    table.drop("discs.svg", discs_svg())
    expect(table.openings).to_have_count(COLUMNS * ROWS)
    table.go("Papers")
    page.locator(".sheet").first.click()
    page.get_by_text("all alike", exact=True).click()
    page.get_by_role("listbox", name="Openings of the design").focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    expect(table.opening(COLUMNS * ROWS)).not_to_contain_text("left open")
    table.go("Glue-up")
    page.get_by_label("Cut files (DXF)").check()


def taken(table: Table) -> tuple[float, int]:
    """Take the sheets; return the seconds from the tap to the list of files, and how many there are."""
    take = table.page.get_by_role("button", name="Take the sheets")
    expect(take).to_be_enabled()
    begin = time.perf_counter()
    take.click()
    expect(table.page.locator("a.file")).to_have_count(0)
    expect(table.page.locator("a.file").first).to_be_visible()
    return time.perf_counter() - begin, table.page.locator("a.file").count()


def discs_svg() -> str:
    """Return a card with rows of round openings."""
    radius = HOLE_MM / 2
    holes = "".join(
        f"M{PITCH_MM * (column + 1) - radius} {PITCH_MM * (row + 1)}"
        f"a{radius} {radius} 0 1 0 {HOLE_MM} 0a{radius} {radius} 0 1 0 -{HOLE_MM} 0z"
        for column in range(COLUMNS)
        for row in range(ROWS)
    )
    width, height = PITCH_MM * (COLUMNS + 1), PITCH_MM * (ROWS + 1)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}">'
        f'<path fill-rule="evenodd" d="M0 0h{width}v{height}h-{width}z{holes}"/></svg>'
    )
