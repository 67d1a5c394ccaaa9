"""Picture files as a PDF takes them: JPEG and plain PNG go in byte for byte, so nothing of them is lost.

JPEG frame headers: ITU-T T.81, B.2.2; what the colours are: the Adobe part that ISO/IEC 10918-6 describes.
PNG chunks: W3C PNG. Filters, predictors and colour spaces of images: ISO 32000-1, 7.4.4, 7.4.8 and 8.9.5.
"""

import struct
from dataclasses import dataclass

from peekpaper.refusal import Refusal

_PNG = b"\x89PNG\r\n\x1a\n"
_JPEG_SPACES = {1: "DeviceGray", 3: "DeviceRGB", 4: "DeviceCMYK"}
"""By the number of components, what PDF calls the colour space."""
_PNG_SPACES = {0: ("DeviceGray", 1), 2: ("DeviceRGB", 3), 3: ("Indexed", 1)}
"""By PNG's colour type, what PDF calls the colour space, and its components."""
_FRAMES = {0xC0, 0xC1, 0xC2}
"""Baseline, extended and progressive frames: what readers of PDF unpack."""


@dataclass(frozen=True, slots=True, eq=False)
class Raster:
    """An upright picture as PDF holds it; `parameters` are those of its filter, `palette` RGB triples.

    `inverted` tells that a CMYK picture has its inks the other way round.
    """

    width_px: int
    height_px: int
    colour_space: str
    bits: int
    filter: str
    parameters: str
    data: bytes
    palette: bytes = b""
    inverted: bool = False


def read_raster(data: bytes, name: str) -> Raster:
    """Return the picture in a JPEG file or a PNG file that is neither interlaced nor see-through.

    `name` is what the person calls it. Raises Refusal for any other file.
    """
    try:
        raster = _png(data) if data.startswith(_PNG) else _jpeg(data)
    except (struct.error, IndexError):
        raster = None
    if raster is None or raster.width_px < 1 or raster.height_px < 1:
        raise Refusal("unprintable-picture", paper=name[:40])
    return raster


def _jpeg(data: bytes) -> Raster | None:
    inverted = False
    at = 2
    if data[:2] != b"\xff\xd8":
        return None
    while data[at] == 0xFF:
        marker = data[at + 1]
        if marker == 0xFF:
            at += 1
            continue
        (length,) = struct.unpack_from(">H", data, at + 2)
        if marker == 0xEE and data[at + 4 : at + 9] == b"Adobe":
            inverted = True
        if marker in _FRAMES:
            bits, height, width, components = struct.unpack_from(">BHHB", data, at + 4)
            if bits != 8 or components not in _JPEG_SPACES:
                return None
            space = _JPEG_SPACES[components]
            return Raster(
                width, height, space, 8, "DCTDecode", "", data, inverted=inverted and components == 4
            )
        at += 2 + length
    return None


def _png(data: bytes) -> Raster | None:
    width, height, bits, colour, _, _, interlaced = struct.unpack_from(">IIBBBBB", data, 16)
    if interlaced or colour not in _PNG_SPACES or bits > 8:
        return None
    packed: list[bytes] = []
    palette = b""
    at = len(_PNG)
    while at < len(data):
        length, kind = struct.unpack_from(">I4s", data, at)
        content = data[at + 8 : at + 8 + length]
        if kind == b"tRNS" or len(content) < length:
            return None
        if kind == b"PLTE":
            palette = content
        if kind == b"IDAT":
            packed.append(content)
        at += 12 + length
    space, colours = _PNG_SPACES[colour]
    parameters = f"/Predictor 15 /Colors {colours} /Columns {width}"
    return Raster(width, height, space, bits, "FlateDecode", parameters, b"".join(packed), palette)
