"""Pictures as arrays: RGBA bytes in, CIELAB and plain colours out."""

import numpy as np
from numpy.typing import NDArray

from peekpaper.refusal import Refusal

MOST_PIXELS = 50_000_000
"""The largest picture taken, as many pixels as cameras and scanners give (from memory)."""

_XYZ_FROM_LINEAR = np.array([
    [0.4123907992659593, 0.3575843393838780, 0.1804807884018343],
    [0.2126390058715102, 0.7151686787677559, 0.0721923153607337],
    [0.0193308187155918, 0.1191947797946260, 0.9505321522496608],
])  # fmt: skip
"""sRGB's primaries and white D65 (IEC 61966-2-1), as in W3C, CSS Color Module Level 4, section 10.2."""


def rgba_array(pixels: bytes, width: int, height: int) -> NDArray[np.uint8]:
    """Return RGBA bytes, row by row, as an array of height x width x 4 without copying them.

    Raises Refusal for a picture without pixels or with more than MOST_PIXELS, ValueError where the bytes
    are not as many as width and height say.
    """
    if width < 1 or height < 1:
        raise Refusal("picture-empty")
    if width * height > MOST_PIXELS:
        megapixels = round(width * height / 1e6)
        raise Refusal("picture-too-large", megapixels=megapixels, most=round(MOST_PIXELS / 1e6))
    return np.frombuffer(pixels, dtype=np.uint8).reshape(height, width, 4)


def linear_from_srgb(values: NDArray[np.uint8]) -> NDArray[np.float64]:
    """Return sRGB values (0 to 255) as light, 0 to 1 (IEC 61966-2-1)."""
    steps = np.arange(256) / 255
    table: NDArray[np.float64] = np.where(steps <= 0.04045, steps / 12.92, ((steps + 0.055) / 1.055) ** 2.4)
    return table[values]


def srgb_from_linear(light: NDArray[np.float64]) -> NDArray[np.uint8]:
    """Return light, 0 to 1, as the nearest sRGB values, 0 to 255."""
    light = np.clip(light, 0, 1)
    values: NDArray[np.float64] = np.where(
        light <= 0.0031308, light * 12.92, 1.055 * light ** (1 / 2.4) - 0.055
    )
    rounded: NDArray[np.uint8] = np.rint(values * 255).astype(np.uint8)
    return rounded


def lab_from_srgb(values: NDArray[np.uint8]) -> NDArray[np.float64]:
    """Return sRGB values (..., 3) as CIELAB with white D65 (CIE 15:2004)."""
    xyz = linear_from_srgb(values) @ _XYZ_FROM_LINEAR.T
    ratio = xyz / _XYZ_FROM_LINEAR.sum(axis=1)
    root = np.where(ratio > (6 / 29) ** 3, np.cbrt(ratio), ratio * (29 / 6) ** 2 / 3 + 4 / 29)
    x, y, z = np.moveaxis(root, -1, 0)
    return np.stack([116 * y - 16, 500 * (x - y), 200 * (y - z)], axis=-1)


def hex_of(values: NDArray[np.uint8]) -> str:
    """Return one sRGB colour as `#rrggbb`."""
    red, green, blue = (int(value) for value in values)
    return f"#{red:02x}{green:02x}{blue:02x}"


def plain_sample(picture: NDArray[np.uint8], most: int = 10_000) -> NDArray[np.uint8]:
    """Return at most about `most` pixels of a picture, evenly strewn, see-through ones left out (n x 3)."""
    step = max(1, int(np.ceil(np.sqrt(picture.shape[0] * picture.shape[1] / most))))
    sample = picture[step // 2 :: step, step // 2 :: step].reshape(-1, 4)
    return sample[sample[:, 3] >= 128, :3]
