"""The headless command `ink`."""

import json
from pathlib import Path

import pytest
import shapely
from drawn import svg

from peekpaper.__main__ import main


def test_it_prints_the_page_and_the_ink(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "square.svg"
    file.write_text(svg('<rect x="10" width="20" height="30"/>', 'width="50" height="40"'))
    assert main(["ink", str(file)]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert (answer["width"], answer["height"]) == (50, 40)
    assert shapely.from_wkt(answer["ink"]).equals(shapely.box(10, 0, 30, 30))


@pytest.mark.parametrize("content", [b"", b"%PDF-1.4", None])
def test_what_it_refuses_takes_one_line_and_leaves_with_2(
    content: bytes | None, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "odd.svg"
    if content is not None:
        file.write_bytes(content)
    assert main(["ink", str(file)]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert len(captured.err.strip().splitlines()) == 1


def test_a_file_that_is_not_there_gets_a_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["ink", str(tmp_path / "plan")]) == 2
    assert capsys.readouterr().err.strip().endswith("can't be read: No such file or directory.")
