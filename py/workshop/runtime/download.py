"""Fetching pinned files the ordinary way: through npm, from pip's index, from Debian's archive."""

import json
import os
import shutil
import subprocess
import sys
import tempfile
import urllib.error
import urllib.parse
import urllib.request
from pathlib import Path

from workshop.runtime.pins import Pin
from workshop.runtime.store import keep_download, kept_download
from workshop.stopped import Stopped

PATIENCE_S = 180.0


def from_url(url: str, name: str, expected: str, patience_s: float = PATIENCE_S) -> bytes:
    """Return the file at the URL, from the cache if it was fetched before.

    `expected` is the SHA-256 of its bytes. Raises Stopped where the network fails, the download breaks off
    or the bytes differ.
    """
    if (kept := kept_download(name, expected)) is not None:
        return kept
    try:
        with urllib.request.urlopen(url, timeout=patience_s) as answer:
            data: bytes = answer.read()
            told = answer.headers.get("Content-Length")
    except (OSError, urllib.error.URLError) as error:
        raise Stopped(
            f"{name} could not be fetched from {urllib.parse.urlsplit(url).hostname} ({_reason(error)}):"
            " connect this machine to the network and run the same command again; what was fetched so far is"
            " kept."
        ) from error
    if told is not None and int(told) != len(data):
        raise Stopped(
            f"The download of {name} broke off after {len(data)} of {told} bytes: run the same command again."
        )
    keep_download(name, expected, data)
    return data


def _reason(error: Exception) -> str:
    if isinstance(error, urllib.error.HTTPError):
        return f"it answered {error.code}"
    return str(getattr(error, "reason", error)) or type(error).__name__


def from_npm(pin: Pin) -> bytes:
    """Return the tarball of an npm package, fetched by npm itself if it isn't in the cache."""
    if (kept := kept_download(pin.file, pin.sha256)) is not None:
        return kept
    npm = shutil.which("npm")
    if npm is None:
        raise Stopped(
            f"npm is needed once to fetch {pin.name} {pin.version}: install Node.js with npm and run the same"
            " command again."
        )
    with tempfile.TemporaryDirectory() as folder:
        asked = subprocess.run(
            [npm, "pack", "--silent", f"{pin.name}@{pin.version}"],
            cwd=folder,
            capture_output=True,
            text=True,
            check=False,
        )
        tarball = Path(folder) / pin.file
        if asked.returncode != 0 or not tarball.is_file():
            last = (asked.stderr.strip().splitlines() or ["no reason given"])[-1]
            raise Stopped(
                f"npm could not fetch {pin.name} {pin.version} ({last}): see that this machine reaches the"
                " npm registry and run the same command again."
            )
        data = tarball.read_bytes()
    keep_download(pin.file, pin.sha256, data)
    return data


def from_index(pin: Pin) -> bytes:
    """Return the source distribution of a Python package from the index that pip uses.

    `pip download` would first prepare the package's metadata, which for numpy and shapely needs the whole
    tool chain; so the index's page is read here (PEP 691) and the one file taken.
    """
    if (kept := kept_download(pin.file, pin.sha256)) is not None:
        return kept
    page = f"{_index_url().rstrip('/')}/{pin.name}/"
    request = urllib.request.Request(page, headers={"Accept": "application/vnd.pypi.simple.v1+json"})
    try:
        with urllib.request.urlopen(request, timeout=PATIENCE_S) as answer:
            files = json.load(answer)["files"]
    except (OSError, ValueError) as error:
        raise Stopped(
            f"The Python package index did not tell where {pin.file} is ({_reason(error)}): connect this"
            " machine to the network and run the same command again."
        ) from error
    for file in files:
        if file["filename"] == pin.file:
            return from_url(urllib.parse.urljoin(page, file["url"]), pin.file, pin.sha256)
    raise Stopped(
        f"The Python package index does not have {pin.file}: set pip to use PyPI and run this again."
    )


def _index_url() -> str:
    if url := os.environ.get("PIP_INDEX_URL"):
        return url
    asked = subprocess.run(
        [sys.executable, "-m", "pip", "config", "get", "global.index-url"],
        capture_output=True,
        text=True,
        check=False,
    )
    return (
        asked.stdout.strip() if asked.returncode == 0 and asked.stdout.strip() else "https://pypi.org/simple"
    )
