"""A picture's file to a design's file, where no browser decodes it: by Pillow, which is loaded only then."""

import io
from dataclasses import replace

import numpy as np

from peekpaper.pixels import MOST_PIXELS, rgba_array
from peekpaper.refusal import Refusal
from peekpaper.tracing.choices import TracingChoices
from peekpaper.tracing.field import Pixels
from peekpaper.tracing.trace import svg_of, trace
from peekpaper.units import MM_PER_INCH

_HEADS = (b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff", b"GIF87a", b"GIF89a", b"BM", b"II*\0", b"MM\0*")
_BRANDS = (b"heic", b"heix", b"heif", b"mif1", b"msf1", b"avif")
"""Of ISO base media files that hold a picture (ISO/IEC 23008-12; AV1 Image File Format)."""
_LEAST_PER_INCH, _MOST_PER_INCH = 140, 2400
"""Screens, and programs that know nothing better, write 72 or 96 px per inch: that tells no size."""


def is_picture(data: bytes) -> bool:
    """Tell whether a file is a picture of px, by its first bytes."""
    return (
        data.startswith(_HEADS)
        or (data[:4] == b"RIFF" and data[8:12] == b"WEBP")
        or (data[4:8] == b"ftyp" and data[8:12] in _BRANDS)
    )


def picture_svg(data: bytes, choices: TracingChoices | None = None) -> str:
    """Return the design in a picture's file as the text of an SVG file; moving pictures give their first.

    Where `choices` tell no width, it is that of the file's resolution. Raises Refusal for a file that can't
    be read and for a picture that shows no card; ModuleNotFoundError without Pillow.
    """
    picture, width_mm = decoded(data)
    choices = choices or TracingChoices()
    if choices.width_mm is None and choices.corners is None:
        choices = replace(choices, width_mm=width_mm)
    *_, tracing = trace(picture, choices)
    assert tracing is not None
    return svg_of(tracing)


def decoded(data: bytes) -> tuple[Pixels, float | None]:
    """Return a picture upright as RGBA, and its width in mm where it tells its resolution.

    Raises Refusal for a file that can't be read; ModuleNotFoundError without Pillow.
    """
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        with Image.open(io.BytesIO(data)) as image:
            if image.width * image.height > MOST_PIXELS:
                raise Refusal(
                    "picture-too-large",
                    megapixels=round(image.width * image.height / 1e6),
                    most=round(MOST_PIXELS / 1e6),
                )
            per_inch = float(image.info.get("dpi", (0.0, 0.0))[0])
            upright = ImageOps.exif_transpose(image).convert("RGBA")
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError, Image.DecompressionBombError) as error:
        if isinstance(error, Refusal):
            raise
        raise Refusal("unreadable-picture") from None
    tells_size = _LEAST_PER_INCH <= per_inch <= _MOST_PER_INCH
    width_mm = upright.width / per_inch * MM_PER_INCH if tells_size else None
    return np.array(rgba_array(upright.tobytes(), upright.width, upright.height)), width_mm
