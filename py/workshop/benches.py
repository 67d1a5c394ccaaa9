"""The benches: each module in a process of its own, all figures in one table."""

import json
import os
import subprocess
import sys

from workshop.places import REPOSITORY, SITE
from workshop.say import Say
from workshop.site.build import build_site

FOLDER = REPOSITORY / "tests" / "bench"
RUN = "import sys, json, dataclasses, importlib; module = importlib.import_module(sys.argv[1])"
RUN += "; print(json.dumps([dataclasses.asdict(row) for row in module.main()]))"


def bench(names: list[str], say: Say) -> int:
    """Run the benches of these names (`reading` for `bench_reading.py`; all where none is named).

    Prints the table and keeps it in tests/bench/results; returns 1 where a bench broke, else 0. A missed
    target is shown and does not fail: a table is read, not obeyed.
    """
    sys.path.insert(0, str(FOLDER))
    from table import Row, table  # type: ignore[import-not-found]

    build_site(SITE, say)
    chosen = [f"bench_{name}" for name in names] or sorted(path.stem for path in FOLDER.glob("bench_*.py"))
    rows, broken = [], 0
    environment = {
        **os.environ,
        "PYTHONPATH": os.pathsep.join([str(REPOSITORY / "py"), str(FOLDER), str(REPOSITORY / "tests")]),
    }
    for name in chosen:
        say(f"{name} ...")
        done = subprocess.run(
            [sys.executable, "-c", RUN, name],
            stdout=subprocess.PIPE,
            text=True,
            env=environment,
            cwd=REPOSITORY,
            check=False,
        )
        if done.returncode != 0:
            broken += 1
            continue
        rows += [Row(**row) for row in json.loads(done.stdout.splitlines()[-1])]
    text = table(rows)
    print(text)
    results = FOLDER / "results"
    results.mkdir(exist_ok=True)
    (results / "table.md").write_text(f"{text}\n")
    return 1 if broken else 0
