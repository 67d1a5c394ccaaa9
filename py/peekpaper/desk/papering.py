"""Calls on papers: suggestions, and pictures of papers."""

from collections.abc import Iterator, Sequence

from peekpaper.desk.context import Arguments, Context
from peekpaper.desk.step import Step, result
from peekpaper.pipeline import chosen_colourway


def suggest(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with a spread of papers over the openings, and why."""
    from peekpaper.papers.suggest import suggest as suggestion_for

    project = context.project(arguments)
    suggestion = suggestion_for(
        context.pipeline.design(project),
        project.shelf,
        chosen_colourway(project),
        int(arguments["count"]),
        int(arguments["seed"]),
    )
    yield result(
        {
            "papers": {str(number): paper for number, paper in suggestion.papers.items()},
            "reasons": list(suggestion.reasons),
            "unmet": list(suggestion.unmet),
        }
    )
