"""The libraries that write files: heavy, so imported only for the kinds that need them."""

import importlib
import warnings
from collections.abc import Iterable, Iterator

from peekpaper.sheets.choices import SheetKind

_PDF = ("fpdf",)
_NEEDED = {
    SheetKind.DXF: ("ezdxf.addons.r12writer", "ezdxf.document"),
    SheetKind.TRIM_LIST: _PDF,
    SheetKind.GLUE_UP: ("HersheyFonts", "segno", *_PDF),
    SheetKind.TEMPLATES: _PDF,
    SheetKind.PRINTED_TRIMS: _PDF,
    SheetKind.PRINTED_PIECES: _PDF,
}


def import_libraries(kinds: Iterable[SheetKind]) -> Iterator[str]:
    """Import what files of these kinds are written with, ahead of time; yield each module's name after it.

    The writers import it themselves as well: this only spares the person who takes files the wait.
    """
    for name in dict.fromkeys(name for kind in kinds for name in _NEEDED.get(kind, ())):
        with warnings.catch_warnings():
            # In the page one warns that it can't add pictures, and none are added.
            warnings.simplefilter("ignore", UserWarning)
            importlib.import_module(name)
        yield name
