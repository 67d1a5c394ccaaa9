"""The headless command: the pipeline without the page."""

import argparse
import os
import re
import sys
from collections.abc import Iterator, Sequence

from peekpaper.commands import check, ink, plan, scrap, stories
from peekpaper.refusal import Refusal
from peekpaper.words.words import read_words

_OPTION, _BELOW_ZERO = re.compile(r"--[a-z][a-z-]*"), re.compile(r"-[.\d]")


def main(arguments: list[str] | None = None) -> int:
    """Run a subcommand; return 0, or 2 for what it refuses, with the sentence on stderr.

    Returns 1, and says nothing, where no one reads what it prints to the end.
    """
    parser = argparse.ArgumentParser(prog="peekpaper", description=__doc__)
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    for command in (ink, check, plan, scrap, stories):
        command.add_parser(commands)
    options = parser.parse_args(list(_bound(sys.argv[1:] if arguments is None else arguments)))
    try:
        options.run(options)
        sys.stdout.flush()
    except Refusal as refusal:
        print(read_words(options.language).say(refusal.message), file=sys.stderr)
        return 2
    except ModuleNotFoundError as error:
        if (error.name or "").partition(".")[0] == __package__:
            raise
        print(
            read_words(options.language).text("command.not-installed", name=str(error.name)), file=sys.stderr
        )
        return 2
    except BrokenPipeError:
        # Who reads what is printed has enough of it; what is left over must not be flushed at the end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1
    except OSError as error:
        print(": ".join(str(part) for part in (error.filename, error.strerror) if part), file=sys.stderr)
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
