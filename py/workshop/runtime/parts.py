"""The list of parts that the page fetches, with their sizes, so that it can show progress in bytes."""

import json
from collections.abc import Mapping

from workshop.runtime.own_parts import own_part
from workshop.runtime.pins import CORE_FILES
from workshop.runtime.store import sha256
from workshop.runtime.wheelhouse import EXTRAS, name_and_version, needs
from workshop.site.compress import compressed

INSTALLER = "micropip"


def parts(served: Mapping[str, bytes], package: bytes) -> bytes:
    """Return `parts.json` for the files in the runtime's folder.

    Each part tells `name` (for a wheel the one that `loadPackage` knows), `url` relative to the list itself,
    `bytes`, `gzip_bytes`, `brotli_bytes` (as sent over the wire), `sha256`, and `when` it is needed:
    `start`; `dxf` for what reads and writes such files; `pdf` for what reads those; `sheets` for what else
    only files to take away need; `letters` for what those need whose names are not in Latin-1; `lettering`
    for words in designs; `pictures` for those that are traced;
    `installer` for micropip, with which a person's own experiments may load more. `package` is
    the bytes of the package's own wheel.
    """
    wheels = {name_and_version(file)[0]: data for file, data in served.items() if file.endswith(".whl")}
    at_start = _closure(needs(package), wheels) | {"peekpaper"}
    later = {extra: _closure(needs(package, extra), wheels) - at_start for extra in EXTRAS}
    rows = []
    # What the interpreter starts with comes first, in the order in which it asks for it.
    first = {file: at for at, file in enumerate(CORE_FILES)}
    for file, data in sorted(served.items(), key=lambda item: (first.get(item[0], len(first)), item[0])):
        name = name_and_version(file)[0] if file.endswith(".whl") else file
        if name == INSTALLER:
            when = "installer"
        elif part := own_part(name):
            when = part
        elif not file.endswith(".whl") or name in at_start:
            when = "start"
        else:
            wanted = [extra for extra in EXTRAS if name in later[extra]]
            if not wanted:
                raise ValueError(f"{file} is shipped, but nothing needs it")
            when = wanted[0]
        copies = compressed(data)
        rows.append(
            {
                "name": name,
                "url": file,
                "bytes": len(data),
                "gzip_bytes": len(copies.get(".gz", data)),
                "brotli_bytes": len(copies.get(".br", data)),
                "sha256": sha256(data),
                "when": when,
            }
        )
    return (json.dumps({"parts": rows}, indent=1) + "\n").encode()


def _closure(names: set[str], wheels: Mapping[str, bytes]) -> set[str]:
    found: set[str] = set()
    waiting = [name for name in names if name in wheels]
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            waiting += [other for other in needs(wheels[name]) if other in wheels]
    return found
