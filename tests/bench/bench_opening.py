"""What a first visit costs: bytes over the wire by part, and the time until the page can work, cold and warm.

The targets are the project's own, for a machine of two cores that serves the site to itself.
"""

import json
import shutil
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import BrowserContext, expect, sync_playwright

from table import Row
from workshop.browser import ARGUMENTS, browser_path
from workshop.places import SITE
from workshop.site.serve import served

VISITS = 3
PATIENCE_MS = 120_000


def main() -> Iterator[Row]:
    yield from _sizes()
    cold, warm, first_paint = [], [], []
    for _ in range(VISITS):
        folder = tempfile.mkdtemp()
        try:
            with sync_playwright() as playwright, served(SITE) as address:
                context = playwright.chromium.launch_persistent_context(
                    folder, executable_path=browser_path(), args=list(ARGUMENTS)
                )
                ready, paint = _visit(context, address)
                cold.append(ready)
                first_paint.append(paint)
                warm += [_visit(context, address)[0] for _ in range(2)][1:]
                context.close()
        finally:
            shutil.rmtree(folder, ignore_errors=True)
    yield Row("opening", "first picture of the page", min(first_paint), "s", 0.5, note=f"best of {VISITS}")
    yield Row("opening", "ready for work, cold", min(cold), "s", 6.0, note=f"best of {VISITS}")
    yield Row("opening", "ready for work, warm", min(warm), "s", 3.0, note=f"best of {VISITS}")


def _sizes() -> Iterator[Row]:
    parts = json.loads((SITE / "runtime" / "parts.json").read_text())["parts"]
    page = [row["path"] for row in json.loads((SITE / "files.json").read_text())["files"]]
    page = [path for path in page if not path.startswith(("runtime/", "notices/"))]
    totals = {"brotli": _smallest(page, ".br"), "gzip": _smallest(page, ".gz")}
    yield Row("bytes", "the page itself", totals["brotli"] / 1e6, "MB brotli")
    for when in ("start", "sheets"):
        chosen = [part for part in parts if part["when"] == when]
        for part in sorted(chosen, key=lambda part: -part["brotli_bytes"])[:6]:
            yield Row("bytes", f"{when}: {part['name']}", part["brotli_bytes"] / 1e6, "MB brotli")
        case = (
            "first visit, with what sheets need"
            if when == "sheets"
            else "first visit, until the page can work"
        )
        for way, bytes_so_far in totals.items():
            totals[way] = bytes_so_far + sum(part[f"{way}_bytes"] for part in chosen)
            yield Row("bytes", case, totals[way] / 1e6, f"MB {way}", 14.0)


def _smallest(paths: list[str], suffix: str) -> int:
    files = [SITE / path for path in paths]
    return sum(min(_size(file), _size(Path(f"{file}{suffix}"))) for file in files)


def _size(file: Path) -> float:
    return file.stat().st_size if file.exists() else float("inf")


def _visit(context: BrowserContext, address: str) -> tuple[float, float]:
    """Open the page; returns the seconds until Python is ready, and until the first picture."""
    page = context.new_page()
    begin = time.perf_counter()
    page.goto(address)
    # What tells of loading comes with the page and goes when Python is there.
    loading = page.locator("#loading > *")
    loading.first.wait_for(state="attached", timeout=PATIENCE_MS)
    expect(loading).to_have_count(0, timeout=PATIENCE_MS)
    ready = time.perf_counter() - begin
    paint = page.evaluate("performance.getEntriesByName('first-contentful-paint')[0].startTime / 1000")
    page.wait_for_timeout(1000)
    page.close()
    return ready, paint
