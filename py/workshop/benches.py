"""The benches: each module in a process of its own, all figures in one table beside those of earlier runs."""

import json
import os
import subprocess
import sys
import time

from workshop.places import REPOSITORY, SITE
from workshop.say import Say
from workshop.site.build import build_site

FOLDER = REPOSITORY / "tests" / "bench"
RESULTS = FOLDER / "results"
RUN = "import sys, json, dataclasses, importlib; module = importlib.import_module(sys.argv[1])"
RUN += "; print(json.dumps([dataclasses.asdict(row) for row in module.main()]))"
BY_NAME_ALONE = {"bench_endings", "bench_soak"}
"""These take their time: hundreds of visits."""
MOST_SECONDS = 20 * 60
"""Benches that are not named end by then."""


def bench(names: list[str], say: Say) -> int:
    """Run the benches of these names (`reading` for `bench_reading.py`), without names all but the long ones.

    Prints the table and what got worse by more than noise, and keeps both in tests/bench/results with the
    figures for the runs to come; returns 1 where a bench broke, else 0. A missed target is shown and does
    not fail: a table is read, not obeyed.
    """
    sys.path.insert(0, str(FOLDER))
    from earlier import Earlier  # type: ignore[import-not-found]
    from table import Row, table  # type: ignore[import-not-found]

    build_site(SITE, say)
    everything = sorted(path.stem for path in FOLDER.glob("bench_*.py"))
    chosen = [f"bench_{name}" for name in names] or [one for one in everything if one not in BY_NAME_ALONE]
    end = None if names else time.monotonic() + MOST_SECONDS
    rows, broken = [], 0
    environment = {
        **os.environ,
        "PYTHONPATH": os.pathsep.join([str(REPOSITORY / "py"), str(FOLDER), str(REPOSITORY / "tests")]),
    }
    for name in chosen:
        say(f"{name} ...")
        try:
            done = subprocess.run(
                [sys.executable, "-c", RUN, name],
                stdout=subprocess.PIPE,
                text=True,
                env=environment,
                cwd=REPOSITORY,
                check=False,
                timeout=None if end is None else max(0.1, end - time.monotonic()),
            )
        except subprocess.TimeoutExpired:
            say(f"{name} was left out: the time was up. By its name alone it takes as long as it needs.")
            continue
        if done.returncode != 0:
            broken += 1
            continue
        rows += [Row(**row) for row in json.loads(done.stdout.splitlines()[-1])]
    earlier = Earlier.read(RESULTS / "earlier.json")
    text = "\n".join([table(rows, earlier.usual), "", *earlier.worse(rows)])
    print(text)
    RESULTS.mkdir(exist_ok=True)
    (RESULTS / "table.md").write_text(f"{text}\n")
    earlier.with_run(rows).write(RESULTS / "earlier.json")
    return 1 if broken else 0
