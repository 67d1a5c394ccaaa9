"""Each way that a machine or a network lets the build down ends in one sentence with a way on."""

import errno
import os
import socket
import subprocess
import sys
import urllib.error
import urllib.request
from pathlib import Path

import pytest

from workshop import javascript
from workshop.places import REPOSITORY, cache
from workshop.runtime import download, gather, host, official, source, store
from workshop.runtime.pins import Pin
from workshop.site import serve
from workshop.stopped import Stopped

HELLO = b"hello"


@pytest.fixture(autouse=True)
def _empty_cache(tmp_path, monkeypatch):
    monkeypatch.setenv("PEEKPAPER_CACHE", str(tmp_path / "cache"))


class Answer:
    """What a server sent."""

    def __init__(self, data: bytes, told: int | None = None) -> None:
        self.data = data
        self.headers = {"Content-Length": str(len(data) if told is None else told)}

    def __enter__(self) -> "Answer":
        return self

    def __exit__(self, *_: object) -> None:
        pass

    def read(self) -> bytes:
        return self.data


def answer_with(monkeypatch, answer) -> None:
    def urlopen(*_, **__):
        if isinstance(answer, Exception):
            raise answer
        return answer

    monkeypatch.setattr(urllib.request, "urlopen", urlopen)


def sentence(stopped: pytest.ExceptionInfo[Stopped]) -> str:
    """What a person reads: one paragraph that ends as sentences do."""
    text = str(stopped.value)
    assert "\n" not in text
    assert text.endswith(".")
    return text


def test_no_network_says_so_and_that_what_came_is_kept(monkeypatch):
    answer_with(monkeypatch, urllib.error.URLError("Network is unreachable"))
    with pytest.raises(Stopped) as stopped:
        download.from_url("https://example.org/part", "part", store.sha256(HELLO))
    assert "Network is unreachable" in sentence(stopped)
    assert "run the same command again" in sentence(stopped)


def test_half_a_download_is_told_in_bytes_and_not_kept(monkeypatch):
    answer_with(monkeypatch, Answer(HELLO[:3], told=5))
    with pytest.raises(Stopped) as stopped:
        download.from_url("https://example.org/part", "part", store.sha256(HELLO))
    assert "after 3 of 5 bytes" in sentence(stopped)
    assert store.kept_download("part", store.sha256(HELLO)) is None


def test_another_content_than_the_pinned_one_is_thrown_away(monkeypatch):
    answer_with(monkeypatch, Answer(b"jello"))
    with pytest.raises(Stopped) as stopped:
        download.from_url("https://example.org/part", "part", store.sha256(HELLO))
    assert "SHA-256 differs" in sentence(stopped)
    assert store.kept_download("part", store.sha256(HELLO)) is None


def test_a_download_is_fetched_once(monkeypatch):
    answer_with(monkeypatch, Answer(HELLO))
    assert download.from_url("https://example.org/part", "part", store.sha256(HELLO)) == HELLO
    answer_with(monkeypatch, urllib.error.URLError("Network is unreachable"))
    assert download.from_url("https://example.org/part", "part", store.sha256(HELLO)) == HELLO


def test_a_kept_download_that_was_spoilt_since_is_fetched_anew(monkeypatch, tmp_path):
    answer_with(monkeypatch, Answer(HELLO))
    download.from_url("https://example.org/part", "part", store.sha256(HELLO))
    (kept,) = (tmp_path / "cache" / "downloads").iterdir()
    kept.write_bytes(b"spoilt")
    assert download.from_url("https://example.org/part", "part", store.sha256(HELLO)) == HELLO


def test_a_full_disk_is_named_and_leaves_no_half_file(monkeypatch, tmp_path):
    def full(*_):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(Stopped) as stopped:
        store.write_whole(tmp_path / "folder" / "file", HELLO)
    assert f"The disk that holds {tmp_path / 'folder'} is full" in sentence(stopped)
    assert list((tmp_path / "folder").iterdir()) == []


def test_a_folder_that_cannot_be_written_names_the_way_round(monkeypatch, tmp_path):
    def denied(*_, **__):
        raise OSError(errno.EACCES, os.strerror(errno.EACCES))

    monkeypatch.setattr(Path, "mkdir", denied)
    with pytest.raises(Stopped) as stopped:
        store.write_whole(tmp_path / "folder" / "file", HELLO)
    assert "PEEKPAPER_CACHE" in sentence(stopped)


def test_npm_that_is_missing_is_asked_for(monkeypatch):
    monkeypatch.setenv("PATH", "")
    with pytest.raises(Stopped) as stopped:
        download.from_npm(Pin("pyodide", "1", "pyodide-1.tgz", "0" * 64))
    assert "install Node.js" in sentence(stopped)


def test_an_old_node_is_told_with_its_version(monkeypatch, tmp_path):
    for name in ("node", "npm"):
        program = tmp_path / name
        program.write_text("#!/bin/sh\necho v16.3.0\n")
        program.chmod(0o755)
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(Stopped) as stopped:
        javascript.want_node()
    assert "this is v16.3.0" in sentence(stopped)


def test_an_old_python_gets_a_sentence_before_anything_else():
    code = f"""
import sys
sys.version_info = (3, 9, 2, "final", 0)
__file__ = "build.py"
exec({(REPOSITORY / "build.py").read_text()!r})
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 1
    assert done.stderr.startswith("Python 3.11 or newer is needed, this is 3.9")
    assert done.stderr.count("\n") == 1


def test_a_port_that_is_taken_is_answered_with_another(tmp_path):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        with pytest.raises(Stopped) as stopped:
            serve.listen(tmp_path, port)
    assert f"Port {port} is taken" in sentence(stopped)
    assert f"--port {port + 1}" in sentence(stopped)


def test_building_from_source_says_what_it_needs_of_the_system(monkeypatch, tmp_path):
    monkeypatch.setattr(host, "_release", lambda: {"ID": "other", "PRETTY_NAME": "Other Linux 7"})
    with pytest.raises(Stopped) as stopped:
        host.check(tmp_path)
    assert "on Debian only, and this is Other Linux 7" in sentence(stopped)


def test_building_from_source_asks_for_root(monkeypatch, tmp_path):
    monkeypatch.setattr(host, "_release", lambda: {"ID": "debian"})
    monkeypatch.setattr(host.shutil, "which", lambda name: f"/usr/bin/{name}")
    monkeypatch.setattr(host.os, "geteuid", lambda: 1000)
    with pytest.raises(Stopped) as stopped:
        host.check(tmp_path)
    assert "needs root" in sentence(stopped)


def test_building_from_source_tells_how_much_room_it_needs(monkeypatch, tmp_path):
    monkeypatch.setattr(host, "_release", lambda: {"ID": "debian"})
    monkeypatch.setattr(host.shutil, "which", lambda name: f"/usr/bin/{name}")
    monkeypatch.setattr(host.os, "geteuid", lambda: 0)
    usage = host.shutil.disk_usage(tmp_path)._replace(free=1_000_000_000)
    monkeypatch.setattr(host.shutil, "disk_usage", lambda _: usage)
    with pytest.raises(Stopped) as stopped:
        host.check(tmp_path)
    assert "needs 3 GB" in sentence(stopped)
    assert "1.0 GB free" in sentence(stopped)


CORE = {
    "pyodide-lock.json": (
        b'{"packages": {"numpy": {"file_name": "numpy.whl", "sha256": "'
        + store.sha256(HELLO).encode()
        + b'"}}}'
    )
}


def test_a_distribution_out_of_reach_is_no_failure(monkeypatch):
    answer_with(monkeypatch, urllib.error.URLError("timed out"))
    assert official.official_wheels(CORE, ("numpy",)) is None


def test_a_ready_wheel_that_the_lock_does_not_know_is_never_used(monkeypatch):
    answer_with(monkeypatch, Answer(b"jello"))
    with pytest.raises(Stopped, match="SHA-256 differs"):
        official.official_wheels(CORE, ("numpy",))


def test_ready_wheels_are_taken_before_anything_is_built(monkeypatch):
    answer_with(monkeypatch, Answer(HELLO))
    assert official.official_wheels(CORE, ("numpy",)) == {"numpy.whl": HELLO}


def test_wheels_come_from_the_cache_the_second_time(monkeypatch):
    names = gather._wheel_names()
    monkeypatch.setattr(gather, "from_npm", lambda _: b"")
    monkeypatch.setattr(gather, "npm_files", lambda _: {})
    monkeypatch.setattr(gather, "official_wheels", lambda *_: dict.fromkeys(names, HELLO))
    first = gather.gather(lambda _: None)
    monkeypatch.setattr(gather, "official_wheels", lambda *_: pytest.fail("the cache was not asked"))
    assert gather.gather(lambda _: None) == first


def test_a_kept_wheel_that_was_spoilt_is_gathered_anew(monkeypatch, tmp_path):
    names = gather._wheel_names()
    monkeypatch.setattr(gather, "from_npm", lambda _: b"")
    monkeypatch.setattr(gather, "npm_files", lambda _: {})
    monkeypatch.setattr(gather, "official_wheels", lambda *_: dict.fromkeys(names, HELLO))
    first = gather.gather(lambda _: None)
    for kept in (tmp_path / "cache" / "wheels").rglob("*.whl"):
        kept.write_bytes(b"spoilt")
    assert gather.gather(lambda _: None) == first


def test_a_build_that_broke_off_goes_on_where_it_was(monkeypatch, tmp_path):
    done = []

    def run(command: list[str], log: Path) -> None:
        log.write_text("")
        done.append(log.stem)
        if log.stem == "chroot":
            status = log.parents[1] / "chroot" / "var" / "lib" / "dpkg" / "status"
            status.parent.mkdir(parents=True)
            status.write_text("")
        if log.stem == "numpy" and done.count("numpy") == 1:
            raise Stopped("broken off")

    monkeypatch.setattr(host, "check", lambda _: None)
    monkeypatch.setattr(host, "want_mmdebstrap", lambda _: None)
    monkeypatch.setattr(source, "_sources", lambda *_: None)
    monkeypatch.setattr(source, "run_logged", run)
    monkeypatch.setattr(source, "packed_wheels", lambda _: {"numpy.whl": HELLO})
    with pytest.raises(Stopped, match="broken off"):
        source.built_wheels({}, lambda _: None)
    assert source.built_wheels({}, lambda _: None) == {"numpy.whl": HELLO}
    assert done == ["chroot", "toolchain", "geos", "numpy", "numpy", "shapely"]


def test_another_compiler_than_the_tried_one_is_told():
    """Paragraphs as dpkg writes them (deb822)."""
    status = "Package: {}\nStatus: install ok installed\nVersion: {}\nDescription: x\n more\n"
    both = "\n".join([status.format("emscripten", "6.0.5~dfsg-1"), status.format("clang-21", "1:22.1-2")])
    (told,) = source.unlike_tried(both)
    assert "clang-21 1:22.1-2" in told
    assert "tried with 1:21" in told


def test_a_stage_that_fails_names_its_log_and_its_last_words(tmp_path):
    log = tmp_path / "geos.log"
    with pytest.raises(Stopped) as stopped:
        source.run_logged(["sh", "-c", "echo compiling; echo no such header >&2; exit 3"], log)
    assert "stopped at geos (no such header)" in sentence(stopped)
    assert str(log) in sentence(stopped)


@pytest.mark.skipif(sys.platform in ("darwin", "win32"), reason="this variable is of other systems")
@pytest.mark.parametrize("told", ["", "kept/here"])
def test_a_cache_folder_that_is_told_as_nothing_or_relative_is_not_made_in_the_repository(told, monkeypatch):
    monkeypatch.delenv("PEEKPAPER_CACHE")
    monkeypatch.setenv("XDG_CACHE_HOME", told)
    assert cache() == Path.home() / ".cache" / "peekpaper"
