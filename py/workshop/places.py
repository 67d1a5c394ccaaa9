"""Where the repository and the user's cache keep things."""

import os
import sys
from pathlib import Path

REPOSITORY = Path(__file__).resolve().parents[2]
PACKAGE = REPOSITORY / "py" / "peekpaper"
WEB = REPOSITORY / "web"
SITE = REPOSITORY / "dist"
LOCKS = REPOSITORY / "py" / "locks"
VIRTUAL_ENVIRONMENT = REPOSITORY / ".venv"


def cache() -> Path:
    """Return the folder that keeps what was fetched and built: PEEKPAPER_CACHE, or the user's own cache.

    An XDG_CACHE_HOME that is empty or no absolute path counts as none (XDG Base Directory Specification 0.8).
    """
    if chosen := os.environ.get("PEEKPAPER_CACHE"):
        return Path(chosen)
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Caches" / "peekpaper"
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA", Path.home())) / "peekpaper"
    told = Path(os.environ.get("XDG_CACHE_HOME", ""))
    return (told if told.is_absolute() else Path.home() / ".cache") / "peekpaper"
