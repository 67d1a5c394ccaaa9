"""Openly licensed icon sets that nobody here drew, as a corpus; fetched from the npm registry when needed.

They are kept in the user's cache folder and never become part of this project.
"""

import base64
import hashlib
import subprocess
import tarfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from workshop.places import cache


@dataclass(frozen=True, slots=True)
class IconSet:
    """A package of icons: `integrity` is the registry's SHA-512 of it, `folder` where its icons lie."""

    package: str
    version: str
    integrity: str
    licence: str
    source: str
    folder: str


ICON_SETS = (
    IconSet(
        "@tabler/icons",
        "3.52.0",
        "dldKlJNfO/gZnGLcIY0X2EFFKIMGwL/rEvTqglvBgAPFiwj9pZOCN5V3Sf0Gyjq6foX4VQmLdOmsS4w5FdWKAw==",
        "MIT",
        "https://github.com/tabler/tabler-icons",
        "package/icons/",
    ),
    IconSet(
        "bootstrap-icons",
        "1.13.2",
        "fAU1Ly3dH7hwRg+CB8EZ0Vl0fF80zgXHeUVJyfUOKzoURr+TbwISbCW5tKUoQLERaWYG2emTCybcPbD96hdD1A==",
        "MIT",
        "https://github.com/twbs/icons",
        "package/icons/",
    ),
)


def all_icons() -> list[tuple[str, bytes]]:
    """Return the name and the content of every icon of all sets, in a fixed order."""
    return sorted(icon for icon_set in ICON_SETS for icon in _icons(icon_set))


def _icons(icon_set: IconSet) -> Iterator[tuple[str, bytes]]:
    with tarfile.open(_fetched(icon_set)) as package:
        for member in package:
            if member.name.startswith(icon_set.folder) and member.name.endswith(".svg"):
                content = package.extractfile(member)
                assert content is not None
                yield f"{icon_set.package}/{member.name.removeprefix(icon_set.folder)}", content.read()


def _fetched(icon_set: IconSet) -> Path:
    """Return the package's file, fetched where it is not there yet; its hash is checked either way."""
    folder = cache() / "icons"
    file = folder / f"{icon_set.package.removeprefix('@').replace('/', '-')}-{icon_set.version}.tgz"
    if not file.exists():
        folder.mkdir(parents=True, exist_ok=True)
        pack = ["npm", "pack", f"{icon_set.package}@{icon_set.version}", "--silent"]
        subprocess.run([*pack, "--pack-destination", str(folder)], check=True, stdout=subprocess.DEVNULL)
    digest = base64.b64encode(hashlib.sha512(file.read_bytes()).digest()).decode()
    if digest != icon_set.integrity:
        file.unlink()
        raise ValueError(f"{file.name} is not what was pinned")
    return file
