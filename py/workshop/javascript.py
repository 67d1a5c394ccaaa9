"""The type check of the page's JavaScript by the TypeScript compiler, pinned in web/package-lock.json."""

import shutil
import subprocess
from pathlib import Path

from workshop.places import WEB, cache
from workshop.runtime.store import sha256
from workshop.stopped import Stopped

OLDEST_NODE = 20


def want_node() -> None:
    """Raise Stopped unless Node.js is installed and new enough."""
    node = shutil.which("node")
    if node is None or shutil.which("npm") is None:
        raise Stopped(
            f"Node.js {OLDEST_NODE} or newer with npm is needed: install it and run the same command again."
        )
    version = subprocess.run([node, "--version"], capture_output=True, text=True, check=False).stdout.strip()
    if int(version.lstrip("v").split(".")[0] or 0) < OLDEST_NODE:
        raise Stopped(
            f"Node.js {OLDEST_NODE} or newer is needed, this is {version}: install a newer one and run the"
            " same command again."
        )


def type_check() -> int:
    """Check all modules of the page; returns the compiler's exit code, its findings go to the terminal."""
    compiler = _compiler()
    return subprocess.run([str(compiler), "--project", str(WEB / "tsconfig.json")], check=False).returncode


def _compiler() -> Path:
    lock = (WEB / "package-lock.json").read_bytes()
    folder = cache() / "node" / sha256(lock)[:16]
    program = folder / "node_modules" / ".bin" / "tsc"
    if not program.exists():
        want_node()
        folder.mkdir(parents=True, exist_ok=True)
        for name in ("package.json", "package-lock.json"):
            shutil.copy(WEB / name, folder / name)
        done = subprocess.run(
            [str(shutil.which("npm")), "ci", "--ignore-scripts", "--no-audit", "--no-fund", "--silent"],
            cwd=folder,
            capture_output=True,
            text=True,
            check=False,
        )
        if done.returncode != 0:
            raise Stopped(
                "npm could not fetch the TypeScript compiler: see that this machine reaches the npm registry"
                " and run the same command again."
            )
    return program
