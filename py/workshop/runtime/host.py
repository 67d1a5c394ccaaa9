"""What a build from source needs of the machine that it runs on."""

import os
import platform
import shutil
import subprocess
from pathlib import Path

from workshop.stopped import Stopped

NEEDED_BYTES = 3_000_000_000
DEFAULT_MIRROR = "http://deb.debian.org/debian"
OTHERWISE = (
    "connect this machine to the network so that the official Pyodide distribution (cdn.jsdelivr.net)"
    " answers, or copy the cache folder of a machine where it worked"
)


def check(folder: Path) -> None:
    """Raise Stopped, with what is missing and a way on, unless this machine can build from source."""
    release = _release()
    if release.get("ID") != "debian" or not shutil.which("apt-get"):
        name = release.get("PRETTY_NAME") or platform.system() or "an unknown system"
        raise Stopped(
            f"The runtime can be built from source on Debian only, and this is {name}: {OTHERWISE}."
        )
    if os.geteuid() != 0:
        raise Stopped(
            f"Building the runtime from source needs root: run the same command with sudo; or {OTHERWISE}."
        )
    folder.mkdir(parents=True, exist_ok=True)
    free = shutil.disk_usage(folder).free
    if free < NEEDED_BYTES and not (folder / "chroot.done").exists():
        raise Stopped(
            f"Building the runtime from source needs {NEEDED_BYTES / 1e9:.0f} GB for a while, and the disk"
            f" that holds {folder} has {free / 1e9:.1f} GB free: make room, or name another folder in the"
            " environment variable PEEKPAPER_CACHE."
        )


def _release() -> dict[str, str]:
    try:
        return platform.freedesktop_os_release()
    except OSError:
        return {}


def cores() -> int:
    """Return how many processors this process may use."""
    return len(os.sched_getaffinity(0))


def mirror() -> str:
    """Return the Debian mirror that this machine's apt uses already, without a slash at its end."""
    asked = subprocess.run(
        [
            *("apt-get", "indextargets", "--format", "$(REPO_URI) $(ORIGIN) $(COMPONENT)"),
            "Created-By: Packages",
        ],
        capture_output=True,
        text=True,
        check=False,
    )
    for line in asked.stdout.splitlines():
        address, *rest = line.split()
        if rest == ["Debian", "main"] and "security" not in address:
            return address.rstrip("/")
    return DEFAULT_MIRROR


def want_mmdebstrap(log: Path) -> None:
    """See that the program that makes small Debians is there, installing it if it is not."""
    if shutil.which("mmdebstrap"):
        return
    with log.open("wb") as file:
        for command in (["update", "-qq"], ["install", "-y", "-qq", "--no-install-recommends", "mmdebstrap"]):
            done = subprocess.run(
                ["apt-get", *command],
                env={**os.environ, "DEBIAN_FRONTEND": "noninteractive"},
                stdout=file,
                stderr=subprocess.STDOUT,
                check=False,
            )
            if done.returncode != 0:
                raise Stopped(
                    f"apt-get could not install mmdebstrap (the log is {log}): see that this machine reaches"
                    " its Debian mirror and run the same command again."
                )


def contained(command: list[str], network: bool = True) -> list[str]:
    """Return the command to run in process and mount namespaces of its own.

    They end with it, and it ends with this process, even where that is killed.
    """
    cut_off = [] if network else ["--net"]
    return [
        *("setpriv", "--pdeathsig", "KILL"),
        *("unshare", "--mount", "--propagation", "private", "--pid", "--fork", "--kill-child", *cut_off),
        *command,
    ]
