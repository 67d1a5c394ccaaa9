import hashlib
import json
import posixpath
import re
import urllib.error
import urllib.request
from pathlib import Path

import brotli
import pytest

from workshop.places import REPOSITORY
from workshop.runtime.gather import gather
from workshop.runtime.slim import compiled_wheel, slim
from workshop.runtime.wheelhouse import package_wheel, pure_wheels
from workshop.site.build import build_site
from workshop.site.compress import compressed
from workshop.site.serve import served

TEXTS = (".html", ".css", ".js", ".json", ".webmanifest", ".svg")
# Names of vocabularies, which no browser fetches.
# Names of vocabularies, which nothing fetches.
NAMES = ("http://www.w3.org/", "https://json-schema.org/draft/2020-12/schema")


@pytest.fixture(scope="module")
def site(tmp_path_factory) -> Path:
    target = tmp_path_factory.mktemp("built") / "site"
    build_site(target, print)
    return target


def content(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()
    }


def test_two_builds_have_identical_bytes(tmp_path, monkeypatch):
    """What the site was built of, against the same compiled anew: the package, and one library for all."""
    core = gather(print).core
    file, package = package_wheel()
    library = {name: wheel for name, wheel in pure_wheels().items() if name.startswith("tinycss2-")}
    built = compiled_wheel(file, package, core), slim(library, core)
    monkeypatch.setenv("PEEKPAPER_CACHE", str(tmp_path))
    assert (compiled_wheel(file, package, core), slim(library, core)) == built


def test_compressed_copies_are_the_same_at_every_build(tmp_path, monkeypatch):
    data = (REPOSITORY / "build.py").read_bytes() * 5
    first = compressed(data)
    monkeypatch.setenv("PEEKPAPER_CACHE", str(tmp_path))
    assert compressed(data) == first


def test_the_list_of_files_names_every_file_with_its_hash(site):
    listed = {row["path"]: row for row in json.loads((site / "files.json").read_text())["files"]}
    files = {path: data for path, data in content(site).items() if not path.endswith((".gz", ".br"))}
    assert listed.keys() == files.keys() - {"files.json", "service-worker.js"}
    for path, row in listed.items():
        assert row["sha256"] == hashlib.sha256(files[path]).hexdigest()
        assert row["bytes"] == len(files[path])


def test_the_service_worker_holds_the_hash_of_the_list_as_the_sites_version(site):
    version = hashlib.sha256((site / "files.json").read_bytes()).hexdigest()
    assert f'const VERSION = "{version}";' in (site / "service-worker.js").read_text()


def test_the_lock_names_exactly_the_wheels_that_are_shipped(site):
    packages = json.loads((site / "runtime" / "pyodide-lock.json").read_text())["packages"]
    wheels = {path.name: path for path in (site / "runtime").glob("*.whl")}
    assert {package["file_name"] for package in packages.values()} == wheels.keys()
    for package in packages.values():
        assert package["sha256"] == hashlib.sha256(wheels[package["file_name"]].read_bytes()).hexdigest()
        assert set(package["depends"]) <= packages.keys()


def test_the_list_of_parts_covers_the_runtime_and_says_when_each_is_needed(site):
    parts = json.loads((site / "runtime" / "parts.json").read_text())["parts"]
    when = {part["name"]: part["when"] for part in parts}
    assert {when[name] for name in ("numpy", "shapely", "peekpaper", "pyodide.asm.wasm")} == {"start"}
    assert {when[name] for name in ("ezdxf", "fonttools")} == {"dxf"}
    assert {when[name] for name in ("fpdf2", "segno")} == {"sheets"}
    assert when["pypdf"] == "pdf"
    assert when["fontpkg-arimo"] == "letters"
    assert when["uharfbuzz"] == "lettering"
    served_files = {path.name for path in (site / "runtime").iterdir() if path.suffix not in (".gz", ".br")}
    assert {part["url"] for part in parts} >= {
        name for name in served_files if name.endswith((".whl", ".wasm", ".zip"))
    }


def test_nothing_in_the_page_points_to_another_place(site):
    for path, data in content(site).items():
        if path.endswith(TEXTS) and not path.startswith("runtime/"):
            addresses = re.findall(r"""["'(](https?:)?(//[^"')\s]+)""", data.decode())
            foreign = {"".join(found) for found in addresses if not "".join(found).startswith(NAMES)}
            assert not foreign, path


def test_every_address_in_the_page_is_relative_so_that_it_works_below_any_path(site):
    page = (site / "index.html").read_text()
    addresses = re.findall(r"""(?:href|src)=["']([^"']*)["']""", page)
    assert addresses
    assert not [address for address in addresses if address.startswith("/")]


def test_the_page_asks_at_once_for_every_module_that_it_starts_with(site):
    page = (site / "index.html").read_text()
    asked = re.findall(r'rel="modulepreload" href="([^"]+)"', page)
    assert len(asked) == len(set(asked)) > 100
    for place in asked:
        for name in re.findall(
            r'^(?:import|\} from|export .* from)\b[^"]*"(\.[^"]+)"', (site / place).read_text(), re.M
        ):
            assert posixpath.normpath(posixpath.join(posixpath.dirname(place), name)) in asked


def test_the_page_allows_its_own_origin_alone(site):
    page = (site / "index.html").read_text()
    policy = re.search(r'Content-Security-Policy"\s+content="([^"]+)"', page)
    assert policy is not None
    rules = dict(rule.strip().split(" ", 1) for rule in policy[1].split(";") if rule.strip())
    assert rules["default-src"] == "'none'"
    allowed = {word for words in rules.values() for word in words.split()}
    assert allowed <= {"'none'", "'self'", "'wasm-unsafe-eval'", "blob:", "data:"}


def test_each_shipped_wheel_has_its_licence_text_beside_the_notices(site):
    told = (site / "notices" / "notices.txt").read_text()
    for wheel in (site / "runtime").glob("*.whl"):
        assert f"runtime/{wheel.name}" in told
        folder = site / "notices" / wheel.name.partition("-")[0]
        assert any(path.is_file() and path.stat().st_size > 100 for path in folder.rglob("*")), wheel.name


def test_each_shipped_typeface_is_openly_licensed_and_says_so(site):
    told = (site / "notices" / "notices.txt").read_text()
    for face in {path.name.partition("-")[0] for path in (site / "faces").glob("*.woff2")}:
        [about] = [part for part in told.split("\n\n") if f"files:   faces/{face}-" in part]
        text = re.search(r"\(text: (.+)\)", about)
        assert text is not None
        assert "SIL OPEN FONT LICENSE" in (site / "notices" / text[1]).read_text().upper()


def test_the_notices_say_how_to_get_and_relink_geos(site):
    told = (site / "notices" / "notices.txt").read_text()
    assert "GNU Lesser General Public License" in told
    assert "geos-3.13.1.tar.bz2" in told
    assert (
        "LESSER GENERAL PUBLIC LICENSE" in (site / "notices" / "shapely" / "LICENSE_GEOS").read_text().upper()
    )


def ask(address: str, **headers: str):
    return urllib.request.urlopen(urllib.request.Request(address, headers=headers))


@pytest.mark.parametrize(
    ("path", "kind"),
    [
        ("", "text/html; charset=utf-8"),
        ("app.js", "text/javascript; charset=utf-8"),
        ("runtime/pyodide.mjs", "text/javascript; charset=utf-8"),
        ("runtime/pyodide.asm.wasm", "application/wasm"),
        ("runtime/pyodide-lock.json", "application/json"),
        ("runtime/python_stdlib.zip", "application/zip"),
        ("notices/notices.txt", "text/plain; charset=utf-8"),
        ("faces/hand-latin.woff2", "font/woff2"),
    ],
)
def test_the_server_tells_the_right_kind_of_each_file(site, path, kind):
    with served(site) as root, ask(root + path) as answer:
        assert answer.headers["Content-Type"] == kind


def test_the_server_sends_the_smallest_copy_that_the_browser_takes(site):
    name = "runtime/pyodide.mjs"
    whole = (site / name).read_bytes()
    with served(site) as root:
        with ask(root + name, **{"Accept-Encoding": "gzip, deflate, br"}) as answer:
            assert answer.headers["Content-Encoding"] == "br"
            assert brotli.decompress(answer.read()) == whole
        with ask(root + name, **{"Accept-Encoding": "gzip"}) as answer:
            assert answer.headers["Content-Encoding"] == "gzip"
            assert int(answer.headers["Content-Length"]) < len(whole)
        with ask(root + name) as answer:
            assert answer.headers["Content-Encoding"] is None
            assert answer.read() == whole


def test_the_server_sends_nothing_that_the_browser_has_already(site):
    with served(site) as root:
        with ask(root) as answer:
            tag = answer.headers["ETag"]
        with pytest.raises(urllib.error.HTTPError) as told:
            ask(root, **{"If-None-Match": tag})
        assert told.value.code == 304


def test_the_server_shows_nothing_outside_of_its_folder(site):
    with served(site) as root, pytest.raises(urllib.error.HTTPError) as told:
        ask(root + "../" * 8 + "etc/hostname")
    assert told.value.code == 404
