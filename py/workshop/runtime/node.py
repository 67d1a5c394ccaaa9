"""Running Python with the browser's runtime under Node.js."""

import os
import shutil
import subprocess
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path

from workshop.stopped import Stopped

RUNNER = Path(__file__).with_name("run.mjs")


def in_node(
    runtime: Path,
    code: str,
    packages: Sequence[str] = (),
    mounts: Mapping[Path, str] | None = None,
    library: Path | None = None,
) -> str:
    """Run code with the runtime in this folder and return the string that its last expression gives.

    `packages` are loaded first; `mounts` shows folders of this machine inside; `library` stands in for the
    runtime's own standard library. Raises Stopped, with the end of what Node.js told, where the code fails.
    """
    node = shutil.which("node")
    if node is None:
        raise Stopped("Node.js 20 or newer is needed: install it and run the same command again.")
    shown = [f"{host}={inside}" for host, inside in (mounts or {}).items()]
    environment = {**os.environ, **({"STDLIB": str(library)} if library else {})}
    with tempfile.NamedTemporaryFile("w", suffix=".py") as script:
        script.write(code)
        script.flush()
        done = subprocess.run(
            [node, str(RUNNER), str(runtime), script.name, ",".join(packages), *shown],
            capture_output=True,
            text=True,
            check=False,
            env=environment,
        )
    if done.returncode != 0:
        raise Stopped(f"The code failed in the browser's Python: {done.stderr.strip()}")
    return done.stdout
