"""Which folder of the page may import which: what serves all lies low, and nothing imports upwards."""

from collections.abc import Iterator
from pathlib import Path

from workshop.page_modules import imported
from workshop.places import WEB

# From what serves all to what strings all together; a name is a folder of `web/` or a module at its top.
ORDER = (
    ("basics", "runtime"),
    ("words",),
    ("parts", "pictures", "project"),
    ("desk",),
    ("stage",),
    ("help", "places"),
    ("shell",),
    ("app.js",),
)
RANK = {name: rank for rank, names in enumerate(ORDER) for name in names}
# The service worker and what speaks before all modules are loaded stand alone.
ALONE = {"service-worker.js", "too-old.js"}


def complaints(web: Path = WEB) -> Iterator[str]:
    """Yield a sentence for each import that runs up or beside, and for each folder without a place."""
    for path in sorted(web.rglob("*.js")):
        place = path.relative_to(web).as_posix()
        if "node_modules" in path.parts or place in ALONE:
            continue
        folder = place.partition("/")[0]
        if folder not in RANK:
            yield f"web/{folder} has no place in the order of the page: give it one in checks/web_layers.py"
            continue
        for other in sorted(set(imported(path.read_text(), place))):
            theirs = other.partition("/")[0]
            if theirs != folder and RANK.get(theirs, len(ORDER)) >= RANK[folder]:
                yield f"web/{place} imports {other}, which does not lie below it"
