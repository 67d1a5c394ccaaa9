#!/usr/bin/env python3
"""Builds, serves, tests and checks the project; `python3 build.py --help` lists the commands.

Each command does its own set-up: the virtual environment, the pinned tools, the runtime and the site.
"""

import sys
from pathlib import Path

if sys.version_info < (3, 11):
    sys.exit(
        "Python 3.11 or newer is needed, this is %d.%d: install a newer one and run build.py with it, for"
        " example python3.12 build.py serve" % sys.version_info[:2]
    )

sys.path.insert(0, str(Path(__file__).resolve().parent / "py"))

from workshop import environment
from workshop.stopped import Stopped


def main() -> int:
    """Enter the virtual environment, then do what was asked; a machine that can't gets one sentence."""
    try:
        environment.enter()
        from workshop.commands import run  # needs what the environment holds

        return run(sys.argv[1:])
    except Stopped as stopped:
        print(stopped, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print("\nStopped.", file=sys.stderr)
        return 130


if __name__ == "__main__":
    sys.exit(main())
