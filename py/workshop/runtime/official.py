"""The ready wheels of the official Pyodide distribution, where this machine reaches it."""

import json
from collections.abc import Mapping

from workshop.runtime.download import from_url
from workshop.runtime.pins import DISTRIBUTION
from workshop.stopped import Stopped

# Being out of reach is ordinary, and finding that out must not keep anyone waiting.
PATIENCE_S = 4.0


def official_wheels(core: Mapping[str, bytes], names: tuple[str, ...]) -> dict[str, bytes] | None:
    """Return the wheels of these packages by file name, or None where the distribution is out of reach.

    `core` holds the files of the npm package; its `pyodide-lock.json` tells names and SHA-256 of the wheels.
    A wheel whose bytes differ from the lock's hash raises Stopped; it is never used.
    """
    packages = json.loads(core["pyodide-lock.json"])["packages"]
    wheels = {}
    for name in names:
        file, expected = packages[name]["file_name"], packages[name]["sha256"]
        try:
            wheels[file] = from_url(f"{DISTRIBUTION}/{file}", file, expected, PATIENCE_S)
        except Stopped as stopped:
            if isinstance(stopped.__cause__, OSError):
                return None
            raise
    return wheels
