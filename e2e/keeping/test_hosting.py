"""Packed as a zip the site works on the plainest host: in a folder, without headers of ours, and offline."""

import http.server
import threading
import zipfile
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from e2e.conftest import PICTURES
from e2e.table import SCREENS, Table
from workshop.site.pack import pack_folder
from workshop.site.serve import SiteServer


class PlainHandler(http.server.SimpleHTTPRequestHandler):
    """What Python's own server sends of a folder: no compression, no caching, no headers of ours."""

    def log_message(self, *_: object) -> None:
        """Stay quiet."""


@pytest.fixture
def plain_host(site_folder: Path, tmp_path: Path) -> Iterator[tuple[SiteServer, str]]:
    """The packed site unpacked two folders deep, and its address."""
    archive = pack_folder(site_folder, tmp_path / "site.zip")
    with zipfile.ZipFile(archive) as packed:
        packed.extractall(tmp_path / "host" / "crafts" / "back it")
    server = SiteServer(("127.0.0.1", 0), partial(PlainHandler, directory=str(tmp_path / "host")))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield server, f"http://127.0.0.1:{server.server_address[1]}/crafts/back%20it/"
    server.shutdown()
    server.server_close()


def test_the_packed_site_works_in_any_folder_of_a_plain_host_and_without_it(
    browser: Browser, plain_host: tuple[SiteServer, str]
) -> None:
    server, address = plain_host
    table = Table(browser, address, SCREENS["tablet"], PICTURES, keeps_site=True)
    table.wait_until_ready()
    assert table.page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    server.shutdown()
    server.server_close()
    table.page.reload()
    table.wait_until_ready()
    table.press(table.page.locator("#menu-button"))
    news = table.page.locator("dialog[open] details", has_text="Version, and what is new")
    table.press(news.locator("summary"))
    expect(news.locator("li").first).to_be_visible()
    table.picture("menu-news")
    table.close()
    # The worker starts from a blob, whose address tells the origin alone.
    assert [each for each in table.foreign_requests if not each.startswith("blob:http://127.0.0.1:")] == []
    assert table.complaints == []
