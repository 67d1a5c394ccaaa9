"""A small typeface of our own, for tests."""

import io

from fontTools.feaLib.builder import addOpenTypeFeaturesFromString
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen

NAME = "Two Letters"
WIDTHS = {".notdef": 500, "space": 400, "a": 500, "b": 800, "a_b": 1000}
"""Thousandths of an em; a box stands in each, 100 from its sides, 700 high."""


def small_typeface() -> bytes:
    """Return a typeface of a box for "a", a wide one for "b", and one glyph for both together."""
    builder = FontBuilder(1000, isTTF=True)
    builder.setupGlyphOrder(list(WIDTHS))
    builder.setupCharacterMap({ord(" "): "space", ord("a"): "a", ord("b"): "b"})
    glyphs = {}
    for name, width in WIDTHS.items():
        pen = TTGlyphPen(None)
        if name != "space":
            pen.moveTo((100, 0))
            for point in ((100, 700), (width - 100, 700), (width - 100, 0)):
                pen.lineTo(point)
            pen.closePath()
        glyphs[name] = pen.glyph()
    builder.setupGlyf(glyphs)
    builder.setupHorizontalMetrics({name: (width, 100) for name, width in WIDTHS.items()})
    builder.setupHorizontalHeader(ascent=800, descent=-200)
    builder.setupNameTable({"familyName": NAME, "styleName": "Regular"})
    builder.setupOS2(sTypoAscender=800)
    builder.setupPost()
    addOpenTypeFeaturesFromString(builder.font, "feature liga { sub a b by a_b; } liga;")
    kept = io.BytesIO()
    builder.save(kept)
    return kept.getvalue()
