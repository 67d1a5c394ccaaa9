"""The package's own wheel in parts: what every visit needs, and what comes with some libraries."""

from collections.abc import Mapping

from workshop.runtime.wheel import unzipped, wheel_bytes
from workshop.runtime.wheelhouse import metadata

# Folders of the package by the part that they come with; nothing else of it may import them at the top.
FOLDERS: Mapping[str, tuple[str, ...]] = {
    "dxf": ("sources/dxf/",),
    "lettering": ("sources/lettering/",),
    "pdf": ("sources/pdf/",),
    "pictures": ("tracing/",),
    "sheets": ("sheets/cut/", "sheets/lists/", "sheets/pages/"),
}
# The headless command.
NOT_IN_A_PAGE = ("commands/", "__main__.")
PACKAGE = "peekpaper"
_METADATA = """\
Metadata-Version: 2.4
Name: {name}
Version: {version}
License-Expression: {licence}
Requires-Dist: {package}
"""


def own_part(name: str) -> str | None:
    """Return the part that a wheel comes with, by its canonical name; None for one that is not made here."""
    part = name.removeprefix(f"{PACKAGE}-")
    return part if part != name and part in FOLDERS else None


def in_parts(file: str, wheel: bytes) -> dict[str, bytes]:
    """Return the package's wheel (of that file name) as several, by file name."""
    _, version, tag = file.removesuffix(".whl").split("-", 2)
    whole = unzipped(wheel)
    parts: dict[str, dict[str, bytes]] = {}
    for path, data in whole.items():
        within = path.removeprefix(f"{PACKAGE}/")
        if path.endswith((".dist-info/RECORD", ".dist-info/WHEEL")) or within.startswith(NOT_IN_A_PAGE):
            continue
        part = next((part for part, folders in FOLDERS.items() if within.startswith(folders)), "")
        parts.setdefault(part, {})[path] = data
    made = {}
    for part, files in parts.items():
        name = f"{PACKAGE}_{part}" if part else PACKAGE
        if part:
            info, own = f"{PACKAGE}-{version}.dist-info", f"{name}-{version}.dist-info"
            licence = str(metadata(wheel)["License-Expression"])
            told = _METADATA.format(
                name=name.replace("_", "-"), version=version, licence=licence, package=PACKAGE
            )
            files[f"{own}/METADATA"] = told.encode()
            files |= {
                f"{own}{path.removeprefix(info)}": data
                for path, data in whole.items()
                if path.startswith(f"{info}/licenses/")
            }
        made[f"{name}-{version}-{tag}.whl"] = wheel_bytes(name, version, tag, files)
    return made
