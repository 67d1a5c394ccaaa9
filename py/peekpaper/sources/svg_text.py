"""A page of a drawing written as SVG, the one kind of design file that projects keep."""

import math
from collections.abc import Iterator
from html import escape
from itertools import groupby

from peekpaper.drawing.tree.lettering import WITHOUT_LETTERS
from peekpaper.sources.vector import Clip, Lettering, Outline, PaintedPath, VectorPage

_FIGURES = 7
"""Significant figures of coordinates at the page's size: a ten-thousandth of a millimetre on a metre."""
_BREAKS = {9: "&#9;", 10: "&#10;", 13: "&#13;"}
_NO_XML = dict.fromkeys((*range(9), 11, 12, *range(14, 32), 0xFFFE, 0xFFFF, *range(0xD800, 0xE000)))


def svg_text(page: VectorPage) -> str:
    """Return the page as the text of an SVG file: a group for each run of one layer, outlines as paths.

    Where the page tells no size the root tells how many units likely make an inch (`data-px-per-inch`).
    A page that is broken off is written so, without its end, for the reader to tell.
    """
    left, top, right, bottom = page.box
    width, height = right - left, bottom - top
    digits = max(0, _FIGURES - 1 - math.floor(math.log10(max(width, height, 1e-6))))
    if page.mm_per_unit is None:
        size = f'width="{width:.{digits}f}" height="{height:.{digits}f}"'
        size += f' data-px-per-inch="{page.units_per_inch:g}"'
    else:
        size = f'width="{width * page.mm_per_unit:.6f}mm" height="{height * page.mm_per_unit:.6f}mm"'
    box = " ".join(f"{side:.{digits}f}" for side in (left, top, width, height))
    lines = [f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="{box}">']
    lines += [_clip(number, clip, digits) for number, clip in enumerate(page.clips)]
    for layer, content in groupby(page.content, lambda one: one.layer):
        lines.append(f"<g id={_quoted(_clean(layer))}>" if layer else "<g>")
        lines += [
            _path(one, digits) if isinstance(one, PaintedPath) else _lettering(one, digits) for one in content
        ]
        lines.append("</g>")
    lines += ["<image/>"] * page.pictures
    if not page.broken_off:
        lines.append("</svg>")
    return "\n".join(lines) + "\n"


def _clean(text: str) -> str:
    return text.translate(_NO_XML)


def _quoted(text: str) -> str:
    """Return a text as the value of an attribute; breaks of lines stay, else taken for spaces."""
    return f'"{escape(text).translate(_BREAKS)}"'


def _path(path: PaintedPath, digits: int) -> str:
    data = "".join(_data(path.outlines, digits)) + ("" if path.complete else " ?")
    paint = f' fill="{path.fill}"' if path.fill else ' fill="none"'
    if path.fill and path.even_odd:
        paint += ' fill-rule="evenodd"'
    if path.fill and path.fill_opacity < 1:
        paint += f' fill-opacity="{path.fill_opacity:g}"'
    if path.stroke:
        paint += f' stroke="{path.stroke}" stroke-width="{path.stroke_width:.{_FIGURES}g}"{path.stroke_style}'
        if path.stroke_opacity < 1:
            paint += f' stroke-opacity="{path.stroke_opacity:g}"'
    if path.clip is not None:
        paint += f' clip-path="url(#clip-{path.clip})"'
    return f'<path d="{data}"{paint}/>'


def _clip(number: int, clip: Clip, digits: int) -> str:
    within = "" if clip.within is None else f' clip-path="url(#clip-{clip.within})"'
    rule = ' clip-rule="evenodd"' if clip.even_odd else ""
    data = "".join(_data(clip.outlines, digits))
    return f'<clipPath id="clip-{number}"{within}><path d="{data}"{rule}/></clipPath>'


def _lettering(lettering: Lettering, digits: int) -> str:
    x, y = written(lettering.at.real, digits), written(lettering.at.imag, digits)
    text = escape(_clean(lettering.text), quote=False)
    unknown = "" if text else f' {WITHOUT_LETTERS}=""'
    return f'<text x="{x}" y="{y}" font-size="{lettering.size:g}"{unknown}>{text}</text>'


def _data(outlines: tuple[Outline, ...], digits: int) -> Iterator[str]:
    for outline in outlines:
        yield f"M{_point(outline.start, digits)}"
        for segment in outline.segments:
            yield "L" if len(segment) == 1 else "C"
            yield " ".join(_point(point, digits) for point in segment)
        if outline.closed:
            yield "Z"


def _point(point: complex, digits: int) -> str:
    return f"{written(point.real, digits)} {written(point.imag, digits)}"


def written(value: float, digits: int) -> str:
    """Return a number with so many decimals at most."""
    return f"{round(value, digits) + 0.0:.{digits}f}".rstrip("0").rstrip(".") if digits else f"{value:.0f}"
