"""The bytes of a drawing exchange file (DXF) to the page that it draws."""

import io
import math
import re
from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Any

import numpy as np

from peekpaper.drawing.file.budget import Budget
from peekpaper.lengths import LARGEST_MM, MM_PER_INCH
from peekpaper.refusal import Refusal
from peekpaper.sources.dxf.entities import Drawn, drawn_in
from peekpaper.sources.joined import joined
from peekpaper.sources.signs import is_binary_dxf
from peekpaper.sources.vector import Lettering, Outline, PaintedPath, VectorPage

MOST_BYTES = 24 * 1024 * 1024
"""Files beyond it take minutes in a browser; the largest panels that were seen have 1.5 MB."""
_NEXT = re.compile(rb"\n *0\r?\n")
"""Where one entity ends and the next begins."""
_MM_PER_UNIT = {
    1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0, 8: 25.4e-6, 9: 25.4e-3, 10: 914.4, 13: 1e-3, 14: 100.0,
}  # fmt: skip
"""Millimetres in each unit that $INSUNITS names (DXF reference, header variables)."""
_LEAST_MM = 1.0
_USUAL_MM = (20.0, 304.8)
"""Sides that a card usually has, by which units are told apart that a file leaves open."""
_UNITS_PER_INCH = {
    "metric": (MM_PER_INCH, 1.0, MM_PER_INCH / 10),
    "imperial": (1.0, MM_PER_INCH, MM_PER_INCH / 10),
}
"""Millimetres, inches and centimetres, the likelier first."""
_LINE = 1 / 2000
"""Width of a line that has none, as a share of the drawing's longer side: thin enough to be one to cut."""
_JOINED = 1e-6
"""Ends within this share of the longer side are one point that was rounded."""


def dxf_page(data: bytes) -> VectorPage:
    """Return what the model space of a DXF file draws, in the file's units turned y down.

    Lines are joined where their ends meet; those of no width get one that is thin. Layers that are off or
    frozen are left out. Raises Refusal for a file that is broken, too large or draws nothing.
    """
    if len(data) > MOST_BYTES:
        raise Refusal("file-too-large", megabytes=MOST_BYTES >> 20)
    document = _document(data)
    drawn = list(_drawn(document))
    outlines = [outline for one in drawn for outline in one.outlines]
    left, top, right, bottom = _box(outlines)
    side = max(right - left, bottom - top)
    if not 0 < side < math.inf:
        raise Refusal("dxf-nothing" if _is_whole(data) else "dxf-broken")
    line = side * _LINE
    return VectorPage(
        (left - line, top - line, right + line, bottom + line),
        _mm_per_unit(document, side),
        _likely_units_per_inch(document, side),
        tuple(_content(drawn, side, line)),
        broken_off=not _is_whole(data),
    )


def _document(data: bytes) -> Any:
    # The library is there only once such a file is brought in.
    from ezdxf import recover
    from ezdxf.document import Drawing
    from ezdxf.lldxf.tagger import binary_tags_loader

    try:
        if is_binary_dxf(data):
            return Drawing.load(binary_tags_loader(data, errors="ignore"))
        return recover.read(io.BytesIO(data if _is_whole(data) else _ended(data)), errors="ignore")[0]
    except MemoryError:
        raise
    except Exception:  # whatever broken tags lead the library to
        raise Refusal("dxf-broken") from None


def _drawn(document: Any) -> Iterator[Drawn]:
    try:
        yield from drawn_in(document, Budget())
    except (MemoryError, Refusal):
        raise
    except Exception:  # broken tables and blocks
        raise Refusal("dxf-broken") from None


def _is_whole(data: bytes) -> bool:
    return b"EOF" in data[-200:]


def _ended(data: bytes) -> bytes:
    """Return a file that is cut off up to its last whole entity, and properly ended."""
    last = max((found.start() for found in _NEXT.finditer(data)), default=0)
    return data[:last] + b"\n0\nENDSEC\n0\nEOF\n"


def _box(outlines: Sequence[Outline]) -> tuple[float, float, float, float]:
    """Return the box around all points that are numbers: left, top, right and bottom; no points have none."""
    points = np.array([point for one in outlines for part in ((one.start,), *one.segments) for point in part])
    points = points[np.isfinite(points)]
    if len(points) == 0:
        return 0.0, 0.0, 0.0, 0.0
    x, y = points.real, points.imag
    return float(x.min()), float(y.min()), float(x.max()), float(y.max())


def _mm_per_unit(document: Any, side: float) -> float | None:
    """Return the header's unit in mm; None where it tells none, or one in which no card would be so large."""
    mm = _MM_PER_UNIT.get(int(document.header.get("$INSUNITS", 0)))
    return mm if mm is not None and _LEAST_MM <= side * mm <= LARGEST_MM else None


def _likely_units_per_inch(document: Any, side: float) -> float:
    order = _UNITS_PER_INCH["metric" if document.header.get("$MEASUREMENT", 1) else "imperial"]
    least, most = _USUAL_MM
    usual = [units for units in order if least <= side * MM_PER_INCH / units <= most]
    return usual[0] if usual else MM_PER_INCH


def _content(drawn: Sequence[Drawn], side: float, line: float) -> Iterator[PaintedPath | Lettering]:
    """Yield what is drawn in its order, runs of open lines of one look joined."""
    for (layer, colour, width, kind), run in groupby(
        drawn, lambda one: (one.layer, one.colour, one.width, one.kind)
    ):
        stroke_width = width or line
        if kind == "fill":
            for one in run:
                yield PaintedPath(layer, one.outlines, fill=colour, complete=one.complete)
            continue
        if kind == "text":
            for one in run:
                yield Lettering(layer, one.outlines[0].start, one.width, one.text)
            continue
        lines = list(run)
        whole = [outline for one in lines for outline in one.outlines]
        broken = any(not one.complete for one in lines)
        open_lines = [line for line in whole if not line.closed]
        closed = [line for line in whole if line.closed]
        for outline in (*closed, *joined(open_lines, side * _JOINED)):
            yield PaintedPath(layer, (outline,), stroke=colour, stroke_width=stroke_width)
        if broken:
            yield PaintedPath(layer, (), stroke=colour, stroke_width=stroke_width, complete=False)
