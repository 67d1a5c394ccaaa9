"""The licences of all that the site ships, as text files, and a page of text that lists them.

The names of licences and the places of sources are those that each part tells of itself; what Pyodide's
interpreter is linked from is told from memory of its build recipes.
"""

from collections.abc import Mapping
from email.message import Message

from workshop.runtime.pins import GEOS, PYODIDE, PYTHON
from workshop.runtime.wheel import unzipped
from workshop.runtime.wheelhouse import metadata, name_and_version

HEAD = """\
What this site is made of, and under which licences
===================================================

Peekpaper itself is under the MIT licence (peekpaper/LICENSE beside this file). It ships the parts below.
"""

INTERPRETER = f"""\
pyodide {PYODIDE.version}
  licence: Mozilla Public License 2.0 (text: micropip/LICENSE)
  source:  https://github.com/pyodide/pyodide, tag {PYODIDE.version}
  files:   runtime/pyodide.mjs, runtime/pyodide.asm.mjs, runtime/pyodide.asm.wasm
  holds CPython {PYTHON} (PSF License 2.0, text: typing_extensions/LICENSE; source: https://www.python.org),
  Emscripten's libraries (MIT; musl MIT; LLVM's runtimes Apache 2.0 with exception), zlib, bzip2, xz, zstd,
  libffi, SQLite, Expat, HACL* and mpdecimal, each under its own permissive licence or in the public domain.

the Python library
  licence: PSF License 2.0 (text: typing_extensions/LICENSE)
  source:  the file python_stdlib.zip of the npm package pyodide {PYODIDE.version}
  files:   runtime/python_stdlib.zip (byte code; modules that a page can't use are left out)
"""

GEOS_PART = f"""\
GEOS {GEOS.version}
  licence: GNU Lesser General Public License 2.1 (text: shapely/LICENSE_GEOS)
  source:  https://download.osgeo.org/geos/geos-{GEOS.version}.tar.bz2, or the Debian source package geos
           {GEOS.version}; it is used unchanged
  files:   it is linked into the shared object of the shapely wheel
  To use a GEOS of your own: the project's repository holds the recipe that compiles GEOS and links it
  with shapely (py/workshop/runtime/recipe). Change the sources and run `python3 build.py build`, or put a
  shapely wheel of your own in place of the one in runtime/ and its SHA-256 in runtime/pyodide-lock.json.
"""

# Where a wheel's own notes don't say it in one word.
LICENCE_OF = {"defusedxml": "PSF License 2.0", "fonttools": "MIT"}


def notices(wheels: Mapping[str, bytes], others: str) -> dict[str, bytes]:
    """Return the texts by path: `notices.txt` and a folder for each wheel (by file name) with its licences.

    `others` is what `notices.txt` tells of parts that are no wheels.

    Raises ValueError for a wheel that tells no licence, since such a part must not be shipped.
    """
    files: dict[str, bytes] = {}
    paragraphs = [HEAD, INTERPRETER, GEOS_PART]
    for file, wheel in sorted(wheels.items()):
        folder = file.partition("-")[0]
        texts = _licence_texts(wheel)
        if not texts:
            raise ValueError(f"{file} holds no licence text")
        files |= {f"{folder}/{path}": data for path, data in texts.items()}
        paragraphs.append(_paragraph(file, metadata(wheel), sorted(texts)))
    paragraphs.append(others)
    files["notices.txt"] = "\n".join(paragraphs).encode()
    return files


def _licence_texts(wheel: bytes) -> dict[str, bytes]:
    """Return the licence files by a short path; those inside packages keep the whole one."""
    texts = {}
    for path, data in unzipped(wheel).items():
        name = path.rpartition("/")[2].upper()
        if name.startswith(("LICEN", "COPYING", "NOTICE")) and not name.endswith((".PY", ".PYC")):
            folder, _, inner = path.partition("/")
            texts[inner.removeprefix("licenses/") if folder.endswith(".dist-info") else path] = data
    return texts


def _paragraph(file: str, told: Message, texts: list[str]) -> str:
    name, version = name_and_version(file)
    folder = file.partition("-")[0]
    lines = [
        f"{name} {version}",
        f"  licence: {_licence(name, told)} (text: {', '.join(f'{folder}/{path}' for path in texts)})",
        f"  source:  {_source(told) or f'https://pypi.org/project/{name}/{version}/'}",
        f"  files:   runtime/{file} (byte code)",
    ]
    return "\n".join(lines) + "\n"


def _licence(name: str, told: Message) -> str:
    if name in LICENCE_OF:
        return LICENCE_OF[name]
    classifiers = [
        text.rpartition(" :: ")[2] for text in told.get_all("Classifier", []) if text.startswith("Licen")
    ]
    return str(told.get("License-Expression") or ", ".join(classifiers) or told.get("License"))


def _source(told: Message) -> str | None:
    links = dict(link.split(", ", 1) for link in told.get_all("Project-URL", []))
    known = {label.lower(): address for label, address in links.items()}
    return next(
        (known[label] for label in ("source", "code", "repository", "homepage") if label in known), None
    )
