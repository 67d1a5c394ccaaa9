"""Building numpy and shapely (with GEOS) for the browser from source, where no ready wheels can be had.

A small Debian of its own (a chroot) brings the emscripten compiler; everything else is pinned by hash and
fetched before the first compiler call. The stages leave a mark when they are done, so that a build that was
broken off goes on where it was. Each runs in process, mount and network namespaces of its own: when it ends,
however it ends, nothing of it stays running or mounted, and it can fetch nothing.
"""

import io
import re
import shutil
import subprocess
import sys
import tarfile
import time
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache as once
from functools import partial
from pathlib import Path

from workshop.places import cache
from workshop.runtime import host, pins
from workshop.runtime.download import from_index, from_url
from workshop.runtime.pack import packed_wheels
from workshop.runtime.store import sha256
from workshop.say import Say
from workshop.stopped import Stopped

RECIPE = Path(__file__).with_name("recipe")
CHROOT_PACKAGES = "ca-certificates,emscripten,python3.14,python3.14-venv,libpython3.14-dev,ninja-build,cmake"
SUITE = "forky"
TRIED = "about seven minutes on two cores"
# The suite moves on, and its mirror keeps no older versions: with others the build may fail or differ.
TRIED_WITH = {"emscripten": "6.0.5", "clang-21": "1:21", "python3.14": "3.14"}


@dataclass(frozen=True, slots=True)
class Stage:
    """One step of the build: its mark, what to tell, and the script of the recipe with its arguments."""

    mark: str
    telling: str
    script: tuple[str, ...]


STAGES = (
    Stage("toolchain", "setting up the tool chain (5 s)", ("toolchain.sh",)),
    Stage("geos", f"compiling GEOS {pins.GEOS.version} (3 to 4 minutes)", ("geos.sh", pins.GEOS.version)),
    Stage("numpy", f"compiling numpy {pins.NUMPY.version} (2 minutes)", ("numpy.sh", pins.NUMPY.version)),
    Stage(
        "shapely", f"compiling shapely {pins.SHAPELY.version} (15 s)", ("shapely.sh", pins.SHAPELY.version)
    ),
)


@once
def recipe_key() -> str:
    """Return a short hash of all that decides what the build makes: versions, hashes, scripts."""
    told = [pins.PYODIDE, pins.NUMPY, pins.SHAPELY, pins.GEOS, pins.WHEEL_TAG, SUITE, CHROOT_PACKAGES]
    texts = [repr(told).encode(), Path(__file__).with_name("pack.py").read_bytes()]
    texts += [path.read_bytes() for path in sorted(RECIPE.iterdir()) if path.is_file()]
    return sha256(b"\0".join(texts))[:16]


def built_wheels(core: Mapping[str, bytes], say: Say) -> dict[str, bytes]:
    """Return the wheels of numpy and shapely by file name, compiled here.

    `core` holds the files of Pyodide's npm package. Raises Stopped where this machine can't build them.
    """
    folder = cache() / "build" / recipe_key()
    host.check(folder)
    say(f"Building numpy and shapely from source, once: {TRIED}; logs are in {folder / 'logs'}.")
    (folder / "logs").mkdir(parents=True, exist_ok=True)
    _chroot(folder, say)
    for sentence in unlike_tried((folder / "chroot" / "var" / "lib" / "dpkg" / "status").read_text()):
        say(f"  {sentence}")
    _sources(folder, core, say)
    for stage in STAGES:
        _once(folder, stage.mark, stage.telling, say, partial(_inside, folder, stage.script))
    wheels = packed_wheels(folder / "chroot" / "w")
    shutil.rmtree(folder, ignore_errors=True)
    return wheels


def unlike_tried(status: str) -> Iterator[str]:
    """Yield a sentence for each part of the tool chain whose version is not the tried one.

    `status` is the text of dpkg's status file (deb822 paragraphs).
    """
    for paragraph in status.split("\n\n"):
        fields = dict(line.split(": ", 1) for line in paragraph.splitlines() if re.match(r"[\w-]+: ", line))
        name, version = fields.get("Package", ""), fields.get("Version", "")
        tried = TRIED_WITH.get(name)
        if tried and not version.startswith(tried):
            yield (
                f"Debian now has {name} {version}, and the recipe was tried with {tried}: if a stage fails,"
                " that is the likely reason."
            )


def _once(folder: Path, mark: str, telling: str, say: Say, work: Callable[[Path], None]) -> None:
    """Do a piece of work unless its mark says that it is done, and tell how long it took."""
    done = folder / f"{mark}.done"
    if done.exists():
        return
    say(f"  {telling} ...")
    begin = time.monotonic()
    work(folder / "logs" / f"{mark}.log")
    done.touch()
    say(f"    done in {time.monotonic() - begin:.0f} s")


def _chroot(folder: Path, say: Say) -> None:
    root = folder / "chroot"

    def make(log: Path) -> None:
        host.want_mmdebstrap(log)
        shutil.rmtree(root, ignore_errors=True)
        # The mirror may serve a frozen snapshot of the suite, its date past; signatures are still checked.
        options = [
            *("--variant=apt", '--aptopt=Acquire::Check-Valid-Until "false"'),
            *('--aptopt=APT::Install-Recommends "false"', '--aptopt=Acquire::Languages "none"'),
            *('--aptopt=Acquire::Retries "3"', "--dpkgopt=path-exclude=/usr/share/man/*"),
            *("--dpkgopt=path-exclude=/usr/share/doc/*", "--dpkgopt=path-exclude=/usr/share/locale/*"),
        ]
        command = ["mmdebstrap", *options, f"--include={CHROOT_PACKAGES}", SUITE, str(root), host.mirror()]
        run_logged(host.contained(command), log)

    _once(
        folder,
        "chroot",
        "fetching Debian's emscripten into a folder of its own (1 minute, 250 MB)",
        say,
        make,
    )


def _sources(folder: Path, core: Mapping[str, bytes], say: Say) -> None:
    work = folder / "chroot" / "w"

    def fetch(log: Path) -> None:
        for name in ("bin", "src", "out", "tools", "pyodide", "recipe"):
            shutil.rmtree(work / name, ignore_errors=True)
            (work / name).mkdir(parents=True)
        for name in ("pyodide.asm.wasm", "python_stdlib.zip"):
            (work / "pyodide" / name).write_bytes(core[name])
        geos = from_url(
            f"{host.mirror()}/pool/main/g/geos/{pins.GEOS.file}", pins.GEOS.file, pins.GEOS.sha256
        )
        for archive in (geos, from_index(pins.NUMPY), from_index(pins.SHAPELY)):
            with tarfile.open(fileobj=io.BytesIO(archive)) as opened:
                opened.extractall(work / "src", filter="data")
        for path in RECIPE.iterdir():
            shutil.copy(path, work / "recipe" / path.name)
        run_logged(
            [
                *(sys.executable, "-m", "pip", "download", "--quiet", "--no-deps", "--require-hashes"),
                *("--only-binary", ":all:", "--implementation", "py", "--abi", "none", "--platform", "any"),
                *("--python-version", pins.PYTHON, "--dest", str(work / "tools")),
                *("--requirement", str(RECIPE / "tools.txt")),
            ],
            log,
        )

    _once(folder, "sources", "fetching the sources (20 MB)", say, fetch)


def _inside(folder: Path, script: tuple[str, ...], log: Path) -> None:
    """Run one script of the recipe in the chroot, cut off from the network."""
    name, *arguments = script
    environment = ["PATH=/w/bin:/usr/bin:/bin", "HOME=/root", "LANG=C.UTF-8", f"JOBS={host.cores()}"]
    # Time stamps and hash seeds are fixed so that the same recipe makes the same bytes.
    environment += ["SOURCE_DATE_EPOCH=1577836800", "PYTHONHASHSEED=0", "PYTHONDONTWRITEBYTECODE=1"]
    enter = 'mount -t proc proc "$0/proc" && exec nice -n 10 chroot "$0" "$@"'
    run_logged(
        host.contained(
            [
                *("bash", "-c", enter, str(folder / "chroot"), "/usr/bin/env", "-i", *environment),
                *("bash", f"/w/recipe/{name}", *arguments),
            ],
            network=False,
        ),
        log,
    )


def run_logged(command: list[str], log: Path) -> None:
    """Run a command with its output in the log; raises Stopped with the log's last line where it fails."""
    with log.open("wb") as file:
        code = subprocess.run(command, stdout=file, stderr=subprocess.STDOUT, check=False).returncode
    if code != 0:
        lines = [line for line in log.read_text(errors="replace").splitlines() if line.strip()] or [
            "no output"
        ]
        raise Stopped(
            f"Building the runtime from source stopped at {log.stem} ({lines[-1].strip()[:200]}): the log is"
            f" {log}; the same command goes on from there."
        )
