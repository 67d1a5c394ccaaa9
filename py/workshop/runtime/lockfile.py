"""The `pyodide-lock.json` that the site serves: it names exactly the packages that the site ships."""

import json
from collections.abc import Mapping

from workshop.runtime.own_parts import own_part
from workshop.runtime.store import sha256
from workshop.runtime.wheelhouse import imports, name_and_version, needs


def site_lock(npm_lock: bytes, wheels: Mapping[str, bytes]) -> bytes:
    """Return the lock for these wheels (by file name), in the form that `loadPackage` and micropip read.

    What a wheel requires but the site does not ship is left out of its `depends`.
    """
    shipped = {name_and_version(file)[0] for file in wheels}
    packages = {}
    for file, data in sorted(wheels.items()):
        name, version = name_and_version(file)
        packages[name] = {
            "depends": sorted(needs(data) & shipped),
            "file_name": file,
            "imports": [] if own_part(name) else imports(data),
            "install_dir": "site",
            "name": name,
            "package_type": "package",
            "sha256": sha256(data),
            "unvendored_tests": False,
            "version": version,
        }
    lock = {"info": json.loads(npm_lock)["info"], "packages": packages}
    return (json.dumps(lock, indent=1, sort_keys=True) + "\n").encode()
