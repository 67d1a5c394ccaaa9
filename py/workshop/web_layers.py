"""Which folder of the page may import which: what serves all lies low, and nothing imports upwards."""

import posixpath
import re
from collections.abc import Iterator
from pathlib import Path

from workshop.places import WEB

# From what serves all to what strings all together; a name is a folder of `web/` or a module at its top.
ORDER = (
    ("basics", "runtime"),
    ("words",),
    ("parts", "project"),
    ("desk",),
    ("stage",),
    ("help", "places"),
    ("shell",),
    ("app.js",),
)
RANK = {name: rank for rank, names in enumerate(ORDER) for name in names}
# The service worker and what speaks before all modules are loaded stand alone.
ALONE = {"service-worker.js", "too-old.js"}
COMMENT = re.compile(r"/\*.*?\*/|(?<!:)//[^\n]*", re.DOTALL)
IMPORT = re.compile(r'(?:\bfrom|\bimport|\bimport\()\s*"(\.[^"]+)"')


def complaints(web: Path = WEB) -> Iterator[str]:
    """Yield a sentence for each import that runs up or beside, and for each folder without a place."""
    for path in sorted(web.rglob("*.js")):
        place = path.relative_to(web).as_posix()
        if "node_modules" in path.parts or place in ALONE:
            continue
        folder = place.partition("/")[0]
        if folder not in RANK:
            yield f"web/{folder} has no place in the order of the page: give it one in workshop/web_layers.py"
            continue
        for other in sorted(imported(path, place)):
            theirs = other.partition("/")[0]
            if theirs != folder and RANK.get(theirs, len(ORDER)) >= RANK[folder]:
                yield f"web/{place} imports {other}, which does not lie below it"


def imported(path: Path, place: str) -> set[str]:
    """Return the modules that one imports when it runs, by their paths from `web/`; types do not count."""
    code = COMMENT.sub("", path.read_text())
    folder = posixpath.dirname(place)
    return {posixpath.normpath(posixpath.join(folder, name)) for name in IMPORT.findall(code)}
