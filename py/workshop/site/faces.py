"""Typefaces for words on the page, as the site ships them: each in two files, basic Latin and the rest."""

from collections.abc import Mapping

from workshop.runtime.download import from_npm
from workshop.runtime.gather import npm_files
from workshop.runtime.pins import FACES, Pin

SUBSETS = ("latin", "latin-ext")


def faces() -> tuple[dict[str, bytes], dict[str, bytes], str]:
    """Return the typefaces' files by path from the site's root, their licences' texts, and what tells of it.

    Raises Stopped where a typeface can't be had, and KeyError where its package holds other files.
    """
    files: dict[str, bytes] = {}
    texts: dict[str, bytes] = {}
    told: list[str] = []
    for face, pin in FACES.items():
        package = npm_files(from_npm(pin))
        files |= _files_of(face, pin, package)
        texts[f"{_family(pin)}/LICENSE"] = package["LICENSE"]
        told.append(
            f"{_family(pin)} {pin.version}\n"
            f"  licence: SIL Open Font License 1.1 (text: {_family(pin)}/LICENSE)\n"
            f"  source:  the npm package {pin.name} {pin.version}; it is used unchanged\n"
            f"  files:   faces/{face}-*.woff2\n"
        )
    return files, texts, "\n".join(told)


def _files_of(face: str, pin: Pin, package: Mapping[str, bytes]) -> dict[str, bytes]:
    named = {subset: f"files/{_family(pin)}-{subset}-wght-normal.woff2" for subset in SUBSETS}
    return {f"faces/{face}-{subset}.woff2": package[path] for subset, path in named.items()}


def _family(pin: Pin) -> str:
    return pin.name.rpartition("/")[2]
