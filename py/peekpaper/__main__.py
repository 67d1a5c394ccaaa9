"""The headless command: the pipeline without the page."""

import argparse
import re
import sys
from collections.abc import Iterator, Sequence

from peekpaper.commands import check, ink, plan
from peekpaper.refusal import Refusal

_OPTION, _BELOW_ZERO = re.compile(r"--[a-z][a-z-]*"), re.compile(r"-[.\d]")


def main(arguments: list[str] | None = None) -> int:
    """Run a subcommand; return 0, or 2 for what it refuses, with the sentence on stderr."""
    parser = argparse.ArgumentParser(prog="peekpaper", description=__doc__)
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    for command in (ink, check, plan):
        command.add_parser(commands)
    options = parser.parse_args(list(_bound(sys.argv[1:] if arguments is None else arguments)))
    try:
        options.run(options)
    except Refusal as refusal:
        print(refusal, file=sys.stderr)
        return 2
    except OSError as error:
        print(f"{error.filename}: {error.strerror}", file=sys.stderr)
        return 2
    return 0


def _bound(words: Sequence[str]) -> Iterator[str]:
    """Yield the words with options bound to lengths below zero, which argparse takes for options."""
    option: str | None = None
    for word in words:
        if option is not None and _BELOW_ZERO.match(word):
            yield f"{option}={word}"
            option = None
            continue
        if option is not None:
            yield option
        option = word if _OPTION.fullmatch(word) else None
        if option is None:
            yield word
    if option is not None:
        yield option


if __name__ == "__main__":
    sys.exit(main())
