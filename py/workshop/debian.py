"""Programs from Debian's archive that the tests need besides what the registries have."""

import os
import shutil
import subprocess
from pathlib import Path

from workshop.stopped import Stopped

PATIENCE_S = 600


def program(name: str, package: str, folders: tuple[Path, ...] = ()) -> Path:
    """Return the path of a program, installing Debian's package of it where it is missing.

    It is looked for on the path and in `folders`. Raises Stopped where it is missing and can't be installed.
    """
    found = _find(name, folders)
    if found is None and _install(package):
        found = _find(name, folders)
    if found is None:
        raise Stopped(
            f"{name} is missing and could not be installed: install the package {package} (Debian's name"
            " for it) and run the same command again."
        )
    return found


def _find(name: str, folders: tuple[Path, ...]) -> Path | None:
    if on_path := shutil.which(name):
        return Path(on_path)
    return next((path for folder in folders if (path := folder / name).is_file()), None)


def _install(package: str) -> bool:
    if not shutil.which("apt-get") or os.geteuid() != 0:
        return False
    print(f"Installing {package} ...", flush=True)
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for words in (["update", "-qq"], ["install", "-y", "-qq", "--no-install-recommends", package]):
        command = ["apt-get", *words]
        done = subprocess.run(command, capture_output=True, timeout=PATIENCE_S, env=environment, check=False)
    return done.returncode == 0
