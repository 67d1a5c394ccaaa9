"""The virtual environment that everything runs in: made by the system's Python, filled from the lock.

This module needs nothing but the standard library, because it runs before anything is installed.
"""

import hashlib
import os
import subprocess
import sys
import sysconfig
import venv
from pathlib import Path

from workshop.places import LOCKS, VIRTUAL_ENVIRONMENT
from workshop.stopped import Stopped

LOCK = LOCKS / "workshop.txt"
INSTALLED = VIRTUAL_ENVIRONMENT / "installed-lock.sha256"


def interpreter() -> Path:
    """Return the virtual environment's own Python."""
    scripts = sysconfig.get_path("scripts", "venv", vars={"base": str(VIRTUAL_ENVIRONMENT)})
    return Path(scripts) / ("python.exe" if sys.platform == "win32" else "python")


def tool(name: str) -> str:
    """Return the path of a command that the lock installs."""
    return str(interpreter().with_name(name + (".exe" if sys.platform == "win32" else "")))


def enter() -> None:
    """Make the environment if it is missing, install what the lock names, and go on inside it.

    Outside the environment this does not return: the same command starts anew with its Python.
    Raises Stopped where the environment can't be made or pip fails.
    """
    _make()
    _install()
    if Path(sys.prefix).resolve() != VIRTUAL_ENVIRONMENT.resolve():
        command = [str(interpreter()), *sys.argv]
        if sys.platform == "win32":
            sys.exit(subprocess.call(command))
        sys.stdout.flush()
        os.execv(command[0], command)


def _make() -> None:
    if interpreter().is_file():
        return
    print("Making a virtual environment in .venv ...", flush=True)
    try:
        venv.create(VIRTUAL_ENVIRONMENT, with_pip=True, symlinks=sys.platform != "win32")
    except (OSError, subprocess.CalledProcessError) as error:
        raise Stopped(
            f"The virtual environment .venv could not be made ({error}): on Debian or Ubuntu install the"
            " package python3-venv, see that the disk has room, remove .venv and run the same command again."
        ) from error


def _install() -> None:
    wanted = hashlib.sha256(LOCK.read_bytes()).hexdigest()
    if INSTALLED.is_file() and INSTALLED.read_text() == wanted:
        return
    print("Installing the pinned Python tools (about 100 MB the first time, a minute or two) ...", flush=True)
    asked = subprocess.run(
        [
            *(str(interpreter()), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"),
            *("--require-hashes", "--only-binary", ":all:", "--requirement", str(LOCK)),
        ],
        capture_output=True,
        text=True,
        check=False,
    )
    if asked.returncode != 0:
        errors = [line for line in asked.stderr.splitlines() if line.startswith("ERROR")]
        last = (errors or [asked.stderr.strip()])[-1]
        raise Stopped(
            f"pip could not install the pinned tools ({last}): see that this machine reaches the Python"
            " package index and that the disk has room, then run the same command again."
        )
    INSTALLED.write_text(wanted)
