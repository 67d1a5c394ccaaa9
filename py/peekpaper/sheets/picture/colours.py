"""Colours on the sheets, as `#rrggbb`."""

INK = "#1d2430"
PALE_INK = "#5d6675"
HAIRLINE = "#aab1bb"
WHITE = "#ffffff"
ALERT = "#b3261e"


def channels(colour: str) -> tuple[int, int, int]:
    """Return red, green and blue from 0 to 255."""
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def tint(colour: str, strength: float) -> str:
    """Return a colour thinned with white: 1 is the colour itself, 0 white."""
    mixed = (round(255 + (channel - 255) * strength) for channel in channels(colour))
    return "#" + "".join(f"{channel:02x}" for channel in mixed)


def ink_on(colour: str) -> str:
    """Return dark or white ink, whichever contrasts more with `colour` (WCAG 2 relative luminance)."""
    light = _luminance(colour)
    on_white_ink, on_dark_ink = 1.05 / (light + 0.05), (light + 0.05) / (_luminance(INK) + 0.05)
    return WHITE if on_white_ink > on_dark_ink else INK


def _luminance(colour: str) -> float:
    linear = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
        for part in (channel / 255 for channel in channels(colour))
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
