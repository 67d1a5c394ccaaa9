"""Gathering the runtime: what the cache holds, else the official distribution, else a build from source."""

import io
import tarfile
from dataclasses import dataclass

from workshop.places import cache
from workshop.runtime.download import from_npm
from workshop.runtime.official import official_wheels
from workshop.runtime.pins import NUMPY, PYODIDE, SHAPELY, WHEEL_TAG
from workshop.runtime.source import built_wheels, recipe_key
from workshop.runtime.store import sha256, write_whole
from workshop.say import Say


@dataclass(frozen=True, slots=True)
class Gathered:
    """The files of Pyodide's npm package by name, and the wheels of numpy and shapely by file name."""

    core: dict[str, bytes]
    wheels: dict[str, bytes]


def gather(say: Say) -> Gathered:
    """Return all parts of the runtime that are not pure Python, saying on the way what takes time.

    The order: the cache; the official distribution, if one short request reaches it; a build from source,
    which only Debian as root can do. Raises Stopped with a way on where none of them works.
    """
    core = npm_files(from_npm(PYODIDE))
    if (wheels := _kept_wheels()) is not None:
        return Gathered(core, wheels)
    say("numpy and shapely for the browser are not in the cache: asking the official distribution ...")
    wheels = official_wheels(core, ("numpy", "shapely"))
    if wheels is None:
        say("It is out of reach (that is ordinary).")
        wheels = built_wheels(core, say)
    _keep_wheels(wheels)
    return Gathered(core, wheels)


def npm_files(tarball: bytes) -> dict[str, bytes]:
    """Return the files of an npm tarball by their path below its `package` folder."""
    files = {}
    with tarfile.open(fileobj=io.BytesIO(tarball)) as archive:
        for member in archive:
            content = archive.extractfile(member)
            if content is not None:
                files[member.name.removeprefix("package/")] = content.read()
    return files


def _wheel_names() -> list[str]:
    return [f"{pin.name}-{pin.version}-{WHEEL_TAG}.whl" for pin in (NUMPY, SHAPELY)]


def _kept_wheels() -> dict[str, bytes] | None:
    folder = cache() / "wheels" / recipe_key()
    wheels = {}
    for name in _wheel_names():
        wheel, told = folder / name, folder / f"{name}.sha256"
        if not (wheel.is_file() and told.is_file()):
            return None
        wheels[name] = wheel.read_bytes()
        if sha256(wheels[name]) != told.read_text().strip():
            return None
    return wheels


def _keep_wheels(wheels: dict[str, bytes]) -> None:
    folder = cache() / "wheels" / recipe_key()
    for name, data in wheels.items():
        write_whole(folder / name, data)
        write_whole(folder / f"{name}.sha256", f"{sha256(data)}\n".encode())
