"""Takes the pictures of the README from the built site: `PYTHONPATH=py:. python -m e2e.take_pictures`."""

import io
from dataclasses import replace
from pathlib import Path

from PIL import Image
from playwright.sync_api import expect, sync_playwright

from e2e.table import PATIENCE_MS, SCREENS, Table
from workshop.browser import ARGUMENTS, browser_path
from workshop.places import REPOSITORY, SITE
from workshop.site.serve import served

FOLDER = REPOSITORY / ".pictures"
WIDTH_PX = 800
QUALITY = 80
SETTLE_MS = 500


def take_pictures(site: Path, folder: Path) -> None:
    """Take a picture of each place on the demo, as a tablet shows it."""
    folder.mkdir(exist_ok=True)
    with served(site) as address, sync_playwright() as playwright:
        expect.set_options(timeout=PATIENCE_MS)
        browser = playwright.chromium.launch(executable_path=browser_path(), args=list(ARGUMENTS))
        table = Table(browser, address, replace(SCREENS["tablet"], touch=False), folder)
        table.wait_until_ready()
        for place in ("Design", "Papers", "Mats", "Glue-up"):
            table.go(place)
            if place == "Design":
                expect(table.page.locator(".mend-all")).to_be_visible()
            if place == "Mats":
                expect(table.page.get_by_text("Done.")).to_be_visible()
            table.page.wait_for_timeout(SETTLE_MS)
            picture = Image.open(io.BytesIO(table.page.screenshot()))
            small = picture.resize(
                (WIDTH_PX, round(picture.height * WIDTH_PX / picture.width)), Image.LANCZOS
            )
            small.save(folder / f"{place.lower()}.webp", quality=QUALITY)
        browser.close()


if __name__ == "__main__":
    take_pictures(SITE, FOLDER)
