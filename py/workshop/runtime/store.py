"""The cache: files kept under the hash of their bytes or under a key, written whole or not at all."""

import errno
import hashlib
import os
import tempfile
from pathlib import Path

from workshop.places import cache
from workshop.stopped import Stopped


def sha256(data: bytes) -> str:
    """Return the SHA-256 of the bytes in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def write_whole(target: Path, data: bytes) -> None:
    """Write the bytes beside the target and move them there, so that a break never leaves half a file.

    Raises Stopped where the disk is full or the folder can't be written.
    """
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        handle, beside = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(data)
            Path(beside).chmod(0o644)
            Path(beside).replace(target)
        except BaseException:
            Path(beside).unlink(missing_ok=True)
            raise
    except OSError as error:
        raise Stopped(_why(target.parent, error)) from error


def _why(folder: Path, error: OSError) -> str:
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        return f"The disk that holds {folder} is full: free some space and run the same command again."
    return (
        f"{folder} can't be written ({error.strerror}): make it writable, or name another cache folder in"
        " the environment variable PEEKPAPER_CACHE, and run the same command again."
    )


def kept_download(name: str, expected: str) -> bytes | None:
    """Return a file fetched before, or None if there is none whose bytes still have the expected SHA-256."""
    path = _download_path(name, expected)
    if not path.is_file():
        return None
    data = path.read_bytes()
    if sha256(data) == expected:
        return data
    path.unlink()
    return None


def keep_download(name: str, expected: str, data: bytes) -> None:
    """Keep the bytes of a fetched file; raises Stopped when they aren't the expected ones."""
    if sha256(data) != expected:
        raise Stopped(
            f"{name} arrived with another content than the pinned one (its SHA-256 differs), so it was thrown"
            " away: run the same command again; if that happens twice, what stands between this machine and"
            " the registry changes files."
        )
    write_whole(_download_path(name, expected), data)


def _download_path(name: str, expected: str) -> Path:
    return cache() / "downloads" / f"{expected[:16]}-{name}"
