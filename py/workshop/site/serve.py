"""A small server for the built site: right MIME types, compressed copies, nothing stale."""

import contextlib
import errno
import http.server
import threading
from collections.abc import Iterator
from functools import partial
from http import HTTPStatus
from pathlib import Path

from workshop.stopped import Stopped

TYPES = {
    ".html": "text/html; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".mjs": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".map": "application/json",
    ".webmanifest": "application/manifest+json",
    ".wasm": "application/wasm",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".woff2": "font/woff2",
    ".txt": "text/plain; charset=utf-8",
    ".zip": "application/zip",
    ".whl": "application/zip",
    "": "application/octet-stream",
}
ENCODINGS = {"br": ".br", "gzip": ".gz"}


class SiteHandler(http.server.SimpleHTTPRequestHandler):
    """Answers GET and HEAD from one folder, with the compressed copy where the browser takes it."""

    extensions_map = TYPES
    protocol_version = "HTTP/1.1"

    def send_head(self):  # type: ignore[no-untyped-def]
        """Open the file to send and send its headers; returns None where there is nothing to send."""
        path = Path(self.translate_path(self.path))
        if path.is_dir():
            if not self.path.split("?")[0].endswith("/"):
                return super().send_head()
            path /= "index.html"
        if not path.is_file():
            self.send_error(HTTPStatus.NOT_FOUND)
            return None
        encoding = self._encoding(path)
        sent = Path(f"{path}{ENCODINGS[encoding]}") if encoding else path
        status = sent.stat()
        tag = f'"{status.st_mtime_ns:x}-{status.st_size:x}"'
        if self.headers.get("If-None-Match") == tag:
            self.send_response(HTTPStatus.NOT_MODIFIED)
            self.send_header("ETag", tag)
            self.end_headers()
            return None
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", self.guess_type(str(path)))
        self.send_header("Content-Length", str(status.st_size))
        self.send_header("ETag", tag)
        self.send_header("Cache-Control", "no-cache")
        self.send_header("Vary", "Accept-Encoding")
        if encoding:
            self.send_header("Content-Encoding", encoding)
        self.end_headers()
        return sent.open("rb")

    def _encoding(self, path: Path) -> str:
        accepted = {word.split(";")[0].strip() for word in self.headers.get("Accept-Encoding", "").split(",")}
        return next(
            (
                name
                for name, suffix in ENCODINGS.items()
                if name in accepted and Path(f"{path}{suffix}").is_file()
            ),
            "",
        )

    def log_message(self, *_: object) -> None:
        """Stay quiet: the terminal belongs to the person."""


class SiteServer(http.server.ThreadingHTTPServer):
    """A server whose threads end with it; browsers that leave early are no news."""

    daemon_threads = True
    request_queue_size = 64

    def handle_error(self, *_: object) -> None:
        """Stay quiet about a connection that the browser closed."""


def listen(site: Path, port: int = 0) -> SiteServer:
    """Return a server for the folder, bound to this machine alone; port 0 takes any free one.

    Raises Stopped where the port is taken or not allowed.
    """
    try:
        return SiteServer(("127.0.0.1", port), partial(SiteHandler, directory=str(site)))
    except OSError as error:
        why = "is taken" if error.errno == errno.EADDRINUSE else f"can't be used ({error.strerror})"
        raise Stopped(
            f"Port {port} {why}: name another one, for example `python3 build.py serve --port {port + 1}`."
        ) from error


@contextlib.contextmanager
def served(site: Path) -> Iterator[str]:
    """Serve the folder while the block runs; gives the address of its root, ending in a slash."""
    server = listen(site)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_address[1]}/"
    finally:
        server.shutdown()
        server.server_close()
