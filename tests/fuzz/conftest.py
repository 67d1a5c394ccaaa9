"""Counts over all fuzz tests, told at the end."""

from collections.abc import Iterator

import pytest
from trial import Trial


@pytest.fixture
def trial(record_property) -> Iterator[Trial]:
    """A trial whose counts are told at the end of the run."""
    trial = Trial()
    yield trial
    record_property("fuzz results", trial.results)
    record_property("fuzz refusals", trial.refusals)


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    reports = [report for reports in terminalreporter.stats.values() for report in reports]
    told = [told for report in reports for told in getattr(report, "user_properties", ())]
    # What a fixture notes after its test comes with the report of the end alone.
    results, refusals = (
        sum(value for name, value in told if name == f"fuzz {kind}") for kind in ("results", "refusals")
    )
    if results + refusals:
        terminalreporter.write_line(
            f"fuzz: {results + refusals:,} inputs, {results:,} ended in a result, {refusals:,} in a refusal"
        )
