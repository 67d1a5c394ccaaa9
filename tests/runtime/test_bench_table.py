"""The table of figures tells what earlier runs had, and what got worse by more than they differed."""

import sys
from pathlib import Path

from workshop.places import REPOSITORY

sys.path.append(str(REPOSITORY / "tests" / "bench"))

from earlier import Earlier
from table import Row, table


def test_a_figure_is_worse_only_where_it_leaves_what_earlier_runs_had(tmp_path: Path) -> None:
    earlier = Earlier.read(tmp_path / "none yet")
    for seconds, share in ((1.0, 0.90), (1.3, 0.91), (1.1, 0.92)):
        earlier = earlier.with_run([Row("a", "time", seconds, "s"), Row("a", "kept", share, "", 0.5, True)])
    earlier.write(tmp_path / "kept")
    again = Earlier.read(tmp_path / "kept")
    within = [Row("a", "time", 1.39, "s"), Row("a", "kept", 0.85, "", 0.5, True), Row("a", "new", 9.0, "s")]
    assert list(again.worse(within)) == []
    beyond = [Row("a", "time", 1.5, "s"), Row("a", "kept", 0.7, "", 0.5, True), Row("b", "time", 9.0, "s")]
    assert list(again.worse(beyond)) == [
        "Worse: a, time: 1.5 s, usually 1.1",
        "Worse: a, kept: 0.7, usually 0.91",
    ]
    assert "| 1.39  | 1.1     | s " in table(within, again.usual)
