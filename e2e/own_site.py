"""A copy of the built site that a test may spoil, change and switch off; it notes what is asked of it."""

import hashlib
import json
import os
import shutil
import threading
from collections import Counter
from functools import partial
from pathlib import Path

from workshop.site.serve import SiteHandler, SiteServer

LIST = "files.json"
WORKER = "service-worker.js"


class OwnSite:
    """The site in `folder`, served at `address` while it is on; `sent` counts answers by path.

    It is sent as a plain host does, without compression, where `compresses` is taken back.
    """

    def __init__(self, built: Path, folder: Path) -> None:
        self.compresses = True
        shutil.copytree(built, folder, copy_function=os.link)
        self.folder = folder
        self.asked: list[tuple[str, str]] = []
        self.sent: Counter[str] = Counter()
        self._port = 0
        self._server: SiteServer | None = None
        self.switch_on()

    @property
    def address(self) -> str:
        """The address of the site's root."""
        return f"http://127.0.0.1:{self._port}/"

    def switch_on(self) -> None:
        """Answer at the address, from now on."""
        site = self

        class Noting(SiteHandler):
            def send_response(self, code: int, message: str | None = None) -> None:
                site.asked.append((self.command, self.path))
                if self.command == "GET" and code == 200:
                    site.sent[self.path] += 1
                super().send_response(code, message)

            def _encoding(self, path: Path) -> str:
                return super()._encoding(path) if site.compresses else ""

        self._server = SiteServer(("127.0.0.1", self._port), partial(Noting, directory=str(self.folder)))
        self._port = self._server.server_address[1]
        threading.Thread(target=self._server.serve_forever, daemon=True).start()

    def switch_off(self) -> None:
        """Answer nothing any more."""
        if self._server:
            self._server.shutdown()
            self._server.server_close()
            self._server = None

    def replace(self, path: str, data: bytes) -> None:
        """Put other content at a path, without compressed copies; the list of files says nothing of it."""
        for name in (path, f"{path}.gz", f"{path}.br"):
            (self.folder / name).unlink(missing_ok=True)
        (self.folder / path).write_bytes(data)

    def remove(self, path: str) -> None:
        """Take a file away, with its compressed copies."""
        for name in (path, f"{path}.gz", f"{path}.br"):
            (self.folder / name).unlink(missing_ok=True)

    def publish(self, path: str, data: bytes, listed: bytes | None = None) -> None:
        """Bring out a newer version of the site in which `path` is another.

        `listed` is the content whose hash the list of files tells, where that is not the real one.
        """
        self.replace(path, data)
        listing = json.loads((self.folder / LIST).read_text())
        for row in listing["files"]:
            if row["path"] == path:
                row["sha256"] = hashlib.sha256(data if listed is None else listed).hexdigest()
        before = hashlib.sha256((self.folder / LIST).read_bytes()).hexdigest()
        self.replace(LIST, json.dumps(listing).encode())
        after = hashlib.sha256((self.folder / LIST).read_bytes()).hexdigest()
        worker = (self.folder / WORKER).read_text()
        assert before in worker
        self.replace(WORKER, worker.replace(before, after).encode())
