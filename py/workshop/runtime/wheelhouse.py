"""The wheels from PyPI that the page's Python loads: the pinned dependencies and the package itself."""

import subprocess
import sys
import tempfile
import tomllib
from email.message import Message
from email.parser import BytesParser
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name, parse_wheel_filename

from workshop.places import LOCKS, PACKAGE, REPOSITORY, cache
from workshop.runtime.pins import PLATFORM, PYTHON
from workshop.runtime.store import sha256, write_whole
from workshop.runtime.wheel import unzipped, wheel_bytes
from workshop.stopped import Stopped

PAGE_LOCK = LOCKS / "page.txt"

EXTRAS = ("dxf", "pdf", "sheets", "letters", "lettering")
"""What the package can do without, each loaded by the page when it is first asked for."""

# What the markers of a wheel's requirements are judged by: the interpreter in the browser.
PAGE_ENVIRONMENT = {
    "python_version": PYTHON,
    "python_full_version": f"{PYTHON}.2",
    "sys_platform": "emscripten",
    "platform_system": "Emscripten",
    "platform_machine": "wasm32",
    "platform_python_implementation": "CPython",
    "implementation_name": "cpython",
    "os_name": "posix",
    "extra": "",
}


def pure_wheels() -> dict[str, bytes]:
    """Return the dependencies' wheels by file name, as `locks/page.txt` pins them; pip checks their hashes.

    Raises Stopped where pip can't get one of them.
    """
    folder = cache() / "wheelhouse" / sha256(PAGE_LOCK.read_bytes())[:16]
    if not (folder / "complete").is_file():
        _download(folder)
    return {path.name: path.read_bytes() for path in sorted(folder.glob("*.whl"))}


def _download(folder: Path) -> None:
    with tempfile.TemporaryDirectory() as beside:
        asked = subprocess.run(
            [
                *(sys.executable, "-m", "pip", "download", "--quiet", "--no-deps", "--require-hashes"),
                *("--only-binary", ":all:", "--platform", "any", "--platform", PLATFORM),
                *("--implementation", "cp", "--abi", "none", "--abi", "abi3"),
                *("--python-version", PYTHON, "--dest", beside, "--requirement", str(PAGE_LOCK)),
            ],
            capture_output=True,
            text=True,
            check=False,
        )
        if asked.returncode != 0:
            errors = [line for line in asked.stderr.splitlines() if line.startswith("ERROR")]
            raise Stopped(
                f"pip could not fetch the page's Python libraries ({(errors or ['no reason given'])[-1]}):"
                " see that this machine reaches the Python package index and run the same command again."
            )
        for wheel in Path(beside).glob("*.whl"):
            write_whole(folder / wheel.name, wheel.read_bytes())
    write_whole(folder / "complete", b"")


def package_wheel() -> tuple[str, bytes]:
    """Return the file name and the bytes of the package's own wheel."""
    project = tomllib.loads((REPOSITORY / "pyproject.toml").read_text())["project"]
    name, version = project["name"], project["version"]
    info = f"{name}-{version}.dist-info"
    files = {
        path.relative_to(PACKAGE.parent).as_posix(): path.read_bytes()
        for path in PACKAGE.rglob("*")
        if path.is_file() and "__pycache__" not in path.parts and path not in _handed_over()
    }
    files[f"{info}/METADATA"] = "\n".join(
        [
            "Metadata-Version: 2.4",
            f"Name: {name}",
            f"Version: {version}",
            f"Summary: {project['description']}",
            f"License-Expression: {project['license']}",
            f"Requires-Python: {project['requires-python']}",
            *(f"Requires-Dist: {requirement}" for requirement in project["dependencies"]),
            *(
                f'Requires-Dist: {requirement} ; extra == "{extra}"'
                for extra in EXTRAS
                for requirement in project["optional-dependencies"][extra]
            ),
            *(f"Provides-Extra: {extra}" for extra in EXTRAS),
            "",
        ]
    ).encode()
    files[f"{info}/licenses/LICENSE"] = (REPOSITORY / "LICENSE").read_bytes()
    return f"{name}-{version}-py3-none-any.whl", wheel_bytes(name, version, "py3-none-any", files)


def _handed_over() -> set[Path]:
    """Return the words that the page hands to the package, so that they need not come twice."""
    words = PACKAGE / "words"
    return set(words.glob("*.json")) - {words / "en.json"}


def needs(wheel: bytes, extra: str = "") -> set[str]:
    """Return the canonical names of what a wheel requires in the browser, with the extra if one is named."""
    requirements = [Requirement(text) for text in metadata(wheel).get_all("Requires-Dist", [])]
    environment = {**PAGE_ENVIRONMENT, "extra": extra}
    return {
        str(canonicalize_name(requirement.name))
        for requirement in requirements
        if requirement.marker is None or requirement.marker.evaluate(environment)
    }


def metadata(wheel: bytes) -> Message:
    """Return what a wheel tells of itself."""
    files = unzipped(wheel)
    path = next(path for path in files if path.endswith(".dist-info/METADATA") and path.count("/") == 1)
    return BytesParser().parsebytes(files[path])


def imports(wheel: bytes) -> list[str]:
    """Return the names that a wheel lets Python import at top level."""
    tops = {path.partition("/")[0] for path in unzipped(wheel) if path.endswith((".py", ".pyc"))}
    return sorted(top.partition(".")[0] for top in tops if "-" not in top)


def name_and_version(file: str) -> tuple[str, str]:
    """Return the canonical name and the version that a wheel's file name tells."""
    name, version, _, _ = parse_wheel_filename(file)
    return str(name), str(version)
