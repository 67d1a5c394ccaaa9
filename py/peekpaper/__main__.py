"""The headless command: the pipeline without the page."""

import argparse
import sys

from peekpaper.commands import check, ink, plan
from peekpaper.refusal import Refusal


def main(arguments: list[str] | None = None) -> int:
    """Run a subcommand; return 0, or 2 for what it refuses, with the sentence on stderr."""
    parser = argparse.ArgumentParser(prog="peekpaper", description=__doc__)
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    for command in (ink, check, plan):
        command.add_parser(commands)
    options = parser.parse_args(arguments)
    try:
        options.run(options)
    except Refusal as refusal:
        print(refusal, file=sys.stderr)
        return 2
    except OSError as error:
        print(f"{error.filename}: {error.strerror}", file=sys.stderr)
        return 2
    return 0


if __name__ == "__main__":
    sys.exit(main())
