"""The exact versions and SHA-256 hashes of all that the runtime is made of.

Sources: the npm registry (pyodide, typefaces), PyPI (numpy, shapely), the Debian archive (GEOS).
`python3 build.py outdated` tells which of them have newer versions.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Pin:
    """One file of one version of a component, and what its bytes must hash to."""

    name: str
    version: str
    file: str
    sha256: str


PYODIDE = Pin(
    "pyodide",
    "314.0.7",
    "pyodide-314.0.7.tgz",
    "66b7949e5a0cba2250b586d7e368bf12fb482800748d182c4618254b685ffaa0",
)
NUMPY = Pin(
    "numpy",
    "2.4.6",
    "numpy-2.4.6.tar.gz",
    "f3a3570c4a2a16746ac2c31a7c7c7b0c186b95ce902e33db6f28094ed7387dda",
)
SHAPELY = Pin(
    "shapely",
    "2.1.2",
    "shapely-2.1.2.tar.gz",
    "2ed4ecb28320a433db18a5bf029986aa8afcfd740745e78847e330d5d94922a9",
)
GEOS = Pin(
    "geos",
    "3.13.1",
    "geos_3.13.1.orig.tar.bz2",
    "df2c50503295f325e7c8d7b783aca8ba4773919cde984193850cf9e361dfd28c",
)

FACES = {
    "hand": Pin(
        "@fontsource-variable/caveat",
        "5.3.0",
        "fontsource-variable-caveat-5.3.0.tgz",
        "2f50d55732648330ec8dcb4eef79666ef1131a57e7f0441975657a4b2ff20ba9",
    ),
    "serif": Pin(
        "@fontsource-variable/lora",
        "5.3.0",
        "fontsource-variable-lora-5.3.0.tgz",
        "754d8a7eefcf9fd6b11d2fee82377a0c92f82c29d5837c08dda57122d9abf5de",
    ),
    "round": Pin(
        "@fontsource-variable/fredoka",
        "5.3.0",
        "fontsource-variable-fredoka-5.3.0.tgz",
        "6660227ef811b44842c55d1e0cbe461a9811962cb4b93249aeda892f1f70f24b",
    ),
}
"""Typefaces for words on the page, by the name that projects have for each."""

PYTHON = "3.14"
PLATFORM = "pyemscripten_2026_0_wasm32"
WHEEL_TAG = f"cp314-cp314-{PLATFORM}"
DISTRIBUTION = f"https://cdn.jsdelivr.net/pyodide/v{PYODIDE.version}/full"

# The parts of the npm package that the site ships; its console pages, maps and types stay behind.
CORE_FILES = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm", "python_stdlib.zip")
