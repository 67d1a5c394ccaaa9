"""Programs from Debian's archive that the tests need besides what the registries have."""

import contextlib
import os
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

from workshop.places import cache
from workshop.stopped import Stopped

PATIENCE_S = 600


def program(name: str, package: str, folders: tuple[Path, ...] = ()) -> Path:
    """Return the path of a program, installing Debian's package of it where it is missing.

    It is looked for on the path and in `folders`. Raises Stopped where it is missing and can't be installed.
    """
    found = _find(name, folders) or (_find(name, folders) if install(package) else None)
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


def install(package: str) -> bool:
    """Install Debian's package where this is Debian and the person is root; tells whether it is there now."""
    if not shutil.which("apt-get") or os.geteuid() != 0:
        return False
    print(f"Installing {package} ...", flush=True)
    with _alone():
        _succeeds(["apt-get", "update", "-qq"])
        return _succeeds(["apt-get", "install", "-y", "-qq", "--no-install-recommends", package])


@contextlib.contextmanager
def _alone() -> Iterator[None]:
    """Wait until no other test run side by side installs something: apt refuses where it is not alone."""
    import fcntl  # only Unix has it

    cache().mkdir(parents=True, exist_ok=True)
    with (cache() / "installing").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield


def _succeeds(command: list[str]) -> bool:
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    try:
        done = subprocess.run(command, capture_output=True, timeout=PATIENCE_S, env=environment, check=False)
    except subprocess.TimeoutExpired:
        return False
    return done.returncode == 0
