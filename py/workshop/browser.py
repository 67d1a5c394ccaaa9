"""The browser that the tests drive: an installed one, else Playwright's download, else Debian's package."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

from workshop import debian
from workshop.stopped import Stopped

# The one without windows does the same for a fifth less of the processor.
NAMES = (
    "chromium-headless-shell",
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "chrome",
)
APPLICATIONS = (
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    r"C:\Program Files\Google\Chrome\Application\chrome.exe",
)
# Without these a browser on a bare machine or in a container refuses to start or talks to its maker.
ARGUMENTS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
)
DOWNLOAD_PATIENCE_S = 300


def browser_path() -> str:
    """Return the path of a Chromium or Chrome, fetching one if none is installed.

    Raises Stopped where none can be had.
    """
    return (
        _installed() or _playwrights_own(fetch=False) or _playwrights_own(fetch=True) or _debians() or _none()
    )


def _installed() -> str | None:
    if chosen := os.environ.get("PEEKPAPER_BROWSER"):
        return chosen
    found = next((path for name in NAMES if (path := shutil.which(name))), None)
    return found or next((path for path in APPLICATIONS if Path(path).is_file()), None)


def _playwrights_own(*, fetch: bool) -> str | None:
    if fetch:
        print("No browser is installed: fetching Playwright's own Chromium ...", flush=True)
        command = [sys.executable, "-m", "playwright", "install", "chromium"]
        if not _fetched(command):
            return None
    from playwright.sync_api import sync_playwright  # a second to import, seldom needed

    with sync_playwright() as playwright:
        path = playwright.chromium.executable_path
    return path if Path(path).is_file() else None


def _debians() -> str | None:
    print("It is out of reach: asking Debian for its chromium-headless-shell ...", flush=True)
    debian.install("chromium-headless-shell")
    return shutil.which("chromium-headless-shell")


def _fetched(command: list[str]) -> bool:
    try:
        done = subprocess.run(command, capture_output=True, timeout=DOWNLOAD_PATIENCE_S, check=False)
    except subprocess.TimeoutExpired:
        return False
    return done.returncode == 0


def _none() -> str:
    raise Stopped(
        "The browser tests need Chromium or Chrome, and none is installed or can be fetched: install one, or"
        " name its program in the environment variable PEEKPAPER_BROWSER, and run the same command again."
    )
