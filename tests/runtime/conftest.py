"""The runtime as the site ships it, in a folder of its own."""

from pathlib import Path

import pytest

from workshop.site.build import runtime_files


@pytest.fixture(scope="session")
def runtime(tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("site")
    for path, data in runtime_files(print).items():
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(data)
    return folder / "runtime"
