"""The static site in `dist/`: the page's files, the runtime, the lists that the page reads, the notices.

dist/              web/ as it is, without what only tells the type checker something
dist/runtime/      all that is Python: interpreter, wheels, `pyodide-lock.json`, `parts.json`
dist/faces/        typefaces for words on the page
dist/project/      beside its modules, the JSON Schema by which the page knows a broken project
dist/demo.json     the demo as the page shows it before Python is there
dist/news.json     what is new in each version, by language
dist/notices/      the licence of each part that the site ships
dist/files.json    every file of the site with its size and SHA-256, but itself and the service worker, which
                   holds the SHA-256 of this list as the site's version
"""

import json
import shutil
import tempfile
from collections.abc import Iterable, Mapping
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from workshop.page_modules import started_with
from workshop.places import PACKAGE, WEB
from workshop.runtime.gather import gather
from workshop.runtime.lockfile import site_lock
from workshop.runtime.own_parts import in_parts
from workshop.runtime.parts import parts
from workshop.runtime.pins import CORE_FILES
from workshop.runtime.slim import LIBRARY, compiled_wheel, slim
from workshop.runtime.store import sha256, write_whole
from workshop.runtime.wheelhouse import package_wheel, pure_wheels
from workshop.say import Say
from workshop.site.compress import compressed
from workshop.site.faces import faces
from workshop.site.first_demo import demo_views
from workshop.site.news import news
from workshop.site.notices import notices

NOT_SERVED = {"package.json", "package-lock.json", "tsconfig.json"}
SERVICE_WORKER = "service-worker.js"
WORDS = PACKAGE / "words"
NO_LANGUAGES = b'<meta name="languages" content="en" />'
NO_PRELOADS = b"<!-- The modules that the page starts with. -->"
NO_VERSION = b'const VERSION = "unbuilt";'


def build_site(target: Path, say: Say) -> None:
    """Write the whole site to `target`, which is replaced once the new one is complete.

    The bytes depend on nothing but the repository and the pinned parts. Raises Stopped where a part
    can't be had.
    """
    files = {**page_files(), **runtime_files(say), "demo.json": demo_views(), "news.json": news()}
    worker = files.pop(SERVICE_WORKER)
    files["files.json"] = _listing(files)
    files[SERVICE_WORKER] = _with_version(worker, sha256(files["files.json"]))
    target.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=target.parent, prefix=".dist-") as beside:
        fresh = Path(beside) / "new"
        with ThreadPoolExecutor() as several:
            copies = dict(zip(files, several.map(compressed, files.values()), strict=True))
        for path, data in files.items():
            write_whole(fresh / path, data)
            for suffix, copy in copies[path].items():
                write_whole(fresh / f"{path}{suffix}", copy)
        fresh.chmod(0o755)
        if target.exists():
            target.rename(Path(beside) / "old")
        fresh.rename(target)
        shutil.rmtree(Path(beside) / "old", ignore_errors=True)


def page_files() -> dict[str, bytes]:
    """Return what of `web/` is served, by path, with each language's words and the schema of projects."""
    words = {path.stem: path.read_bytes() for path in sorted(WORDS.glob("*.json"))}
    files = _files_of_the_page()
    files["index.html"] = _with_preloads(_with_languages(files["index.html"], words), files)
    files["project/project.schema.json"] = (PACKAGE / "project" / "project.schema.json").read_bytes()
    return files | {f"words/{tag}.json": data for tag, data in words.items()}


def _files_of_the_page() -> dict[str, bytes]:
    return {
        path.relative_to(WEB).as_posix(): path.read_bytes()
        for path in WEB.rglob("*")
        if path.is_file()
        and path.name not in NOT_SERVED
        and not path.name.endswith((".d.ts", ".d.mts"))
        and not any(part.startswith(".") or part == "node_modules" for part in path.relative_to(WEB).parts)
    }


def runtime_files(say: Say) -> dict[str, bytes]:
    """Return what lies in `runtime/` and `faces/` and the notices for it, by path from the site's root."""
    gathered = gather(say)
    core = gathered.core
    libraries = {**gathered.wheels, **pure_wheels()}
    say("Compiling and compressing what has changed (two minutes the first time, else seconds) ...")
    name, package = package_wheel()
    own = in_parts(name, package)
    made = slim({LIBRARY: core[LIBRARY], **libraries}, core)
    made |= in_parts(name, compiled_wheel(name, package, core))
    served = {**{file: core[file] for file in CORE_FILES}, **made}
    lock = site_lock(
        core["pyodide-lock.json"], {file: data for file, data in made.items() if file != LIBRARY}
    )
    served["pyodide-lock.json"] = lock
    served["parts.json"] = parts(served, package)
    files = {f"runtime/{path}": data for path, data in served.items()}
    faces_files, licences, told = faces()
    texts = notices({**libraries, **own}, told) | licences
    return files | faces_files | {f"notices/{path}": data for path, data in texts.items()}


def _with_version(worker: bytes, version: str) -> bytes:
    """Return the service worker with the site's version in it; browsers look for other bytes there."""
    if worker.count(NO_VERSION) != 1:
        raise ValueError(f"{SERVICE_WORKER} has no place for the version")
    return worker.replace(NO_VERSION, f'const VERSION = "{version}";'.encode())


def _with_languages(page: bytes, tags: Iterable[str]) -> bytes:
    """Return the page with the tags of all languages that there are words for."""
    if page.count(NO_LANGUAGES) != 1:
        raise ValueError("index.html has no place for the languages")
    return page.replace(NO_LANGUAGES, NO_LANGUAGES.replace(b'"en"', f'"{" ".join(tags)}"'.encode()))


def _with_preloads(page: bytes, files: Mapping[str, bytes]) -> bytes:
    """Return the page with a link to each module that it starts with, so that all are fetched at once.

    Else a browser learns of a module only once it has read the one that imports it. They are many, and
    leave the way free for the few of the worker that starts Python.
    """
    if page.count(NO_PRELOADS) != 1:
        raise ValueError("index.html has no place for the modules to fetch at once")
    modules = started_with("app.js", files)
    links = [f'<link rel="modulepreload" href="{path}" fetchpriority="low" />' for path in modules]
    return page.replace(NO_PRELOADS, "\n    ".join(links).encode())


def _listing(files: Mapping[str, bytes]) -> bytes:
    rows = [
        {"path": path, "bytes": len(data), "sha256": sha256(data)} for path, data in sorted(files.items())
    ]
    return (json.dumps({"files": rows}, indent=1) + "\n").encode()
