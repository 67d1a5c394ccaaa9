"""What npm has for checking the page, pinned in web/package-lock.json: types, and access for everyone."""

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


def type_complaints() -> list[str]:
    """Check the types of all modules of the page; returns what the compiler finds."""
    compiler = _modules() / ".bin" / "tsc"
    done = subprocess.run(
        [str(compiler), "--project", str(WEB / "tsconfig.json")],
        capture_output=True,
        text=True,
        check=False,
    )
    return [] if done.returncode == 0 else [done.stdout or done.stderr]


def access_rules() -> str:
    """Return the script of axe-core, which finds what shuts people out of a page."""
    return (_modules() / "axe-core" / "axe.min.js").read_text()


def _modules() -> Path:
    lock = (WEB / "package-lock.json").read_bytes()
    folder = cache() / "node" / sha256(lock)[:16]
    modules = folder / "node_modules"
    if not modules.exists():
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
            shutil.rmtree(modules, ignore_errors=True)
            raise Stopped(
                "npm could not fetch what checks the page: see that this machine reaches the npm registry"
                " and run the same command again."
            )
    return modules
