"""The commands of `build.py`, each a few lines that call the module that does the work."""

import argparse
import time
import webbrowser
from pathlib import Path

from workshop import benches, locks, outdated, suite
from workshop.checks import check
from workshop.javascript import want_node
from workshop.places import SITE
from workshop.runtime.conformance import conformance
from workshop.site.build import build_site
from workshop.site.pack import pack_folder
from workshop.site.serve import listen

PORT = 8420
FUZZ_INPUTS = 100_000


def run(words: list[str]) -> int:
    """Do the command that the words name; returns the exit code. Raises Stopped where the machine can't."""
    parser = argparse.ArgumentParser(
        prog="build.py", description="Builds, serves, tests and checks Peekpaper."
    )
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    serve = commands.add_parser("serve", help="build the site and serve it on this machine")
    serve.add_argument("--port", type=int, default=PORT, help=f"the port (default: {PORT})")
    serve.add_argument("--quiet", action="store_true", help="don't open a browser")
    serve.set_defaults(do=lambda asked: _serve(asked.port, asked.quiet))

    build = commands.add_parser("build", help="build the static site in dist/")
    build.add_argument("--out", type=Path, default=SITE, help="the folder to build in (default: dist)")
    build.set_defaults(do=lambda asked: _build(asked.out))

    packing = commands.add_parser(
        "pack", help="build the site, as a folder and as one zip, for any static host"
    )
    packing.add_argument(
        "--out", type=Path, default=SITE, help="the folder; the zip lies beside it (default: dist)"
    )
    packing.set_defaults(do=lambda asked: _pack(asked.out))

    test = commands.add_parser("test", help="run the tests, those of the page included")
    test.set_defaults(do=lambda asked: suite.test(asked.words, _say))

    bench = commands.add_parser("bench", help="measure, and print the table")
    bench.add_argument("names", nargs="*", help="which benches (default: all)")
    bench.set_defaults(do=lambda asked: benches.bench(asked.names, _say))

    fuzz = commands.add_parser("fuzz", help="try spoilt files, links and options")
    fuzz.add_argument(
        "inputs", nargs="?", type=int, default=FUZZ_INPUTS, help="how many (default: %(default)s)"
    )
    fuzz.set_defaults(do=lambda asked: suite.fuzz(asked.inputs))

    checking = commands.add_parser("check", help="style, types, import rules, dead code")
    checking.set_defaults(do=lambda _: check.check())

    lock = commands.add_parser("lock", help="write the lock files anew from pyproject.toml")
    lock.add_argument(
        "--upgrade", action="store_true", help="take newer versions of what isn't pinned by name"
    )
    lock.set_defaults(do=lambda asked: _lock(asked.upgrade))

    old = commands.add_parser("outdated", help="tell which pinned parts have newer versions")
    old.set_defaults(do=lambda _: outdated.outdated())

    own = commands.add_parser("conformance", help="run shapely's own tests in the browser's Python")
    own.set_defaults(do=lambda _: conformance(_say))

    asked, rest = parser.parse_known_args(words)
    if rest and words[0] != "test":
        parser.error(f"unknown words: {' '.join(rest)}")
    asked.words = rest
    return int(asked.do(asked))


def _say(sentence: str) -> None:
    print(sentence, flush=True)


def _build(out: Path) -> int:
    want_node()
    begin = time.monotonic()
    build_site(out, _say)
    _say(f"Built {out} in {time.monotonic() - begin:.1f} s.")
    return 0


def _pack(out: Path) -> int:
    _build(out)
    archive = pack_folder(out, out.with_name(f"{out.name}.zip"))
    _say(
        f"Packed {archive} ({archive.stat().st_size / 1e6:.0f} MB): unpack it in any folder of a static host."
    )
    return 0


def _serve(port: int, quiet: bool) -> int:
    with listen(SITE, port) as server:
        _build(SITE)
        address = f"http://127.0.0.1:{server.server_address[1]}/"
        _say(f"Peekpaper is at {address}  (Ctrl+C ends it)")
        if not quiet:
            webbrowser.open(address)
        server.serve_forever()
    return 0


def _lock(upgrade: bool) -> int:
    locks.relock(upgrade)
    return 0
