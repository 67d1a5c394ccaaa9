"""Plain words for a colour, such as "dark blue" or "pale yellow", by their keys."""

from functools import lru_cache

from peekpaper.message import Message, message

_HUES = (
    (15, "pink"), (45, "red"), (80, "orange"), (115, "yellow"), (130, "yellow-green"), (170, "green"),
    (215, "blue-green"), (285, "blue"), (320, "purple"), (345, "magenta"), (361, "pink"),
)  # fmt: skip
_GREYS = ((0.2, "black"), (0.45, "dark-grey"), (0.75, "grey"), (0.95, "light-grey"), (2.0, "white"))


@lru_cache(maxsize=256)
def colour_words(colour: str) -> Message:
    """Return words for a colour given as `#rrggbb`.

    They follow lightness, chroma and hue in OKLCh (W3C, CSS Color Module Level 4, section 9.4); the bounds
    between words are from memory, no published source.
    """
    from coloraide import Color

    lightness, chroma, hue = Color(colour).convert("oklch").coords(nans=False)
    if chroma < 0.03:
        return message(f"colour.{_word(_GREYS, lightness)}")
    word = _word(_HUES, hue)
    if 30 < hue < 100 and lightness < 0.6 and chroma < 0.12:
        word = "brown"
    if lightness < 0.38:
        return message("shade.dark", colour=message(f"colour.{word}"))
    if chroma < 0.1 and lightness > 0.78:
        shade = "pale" if lightness > 0.9 else "light"
        return message(f"shade.{shade}", colour=message(f"colour.{word}"))
    return message(f"colour.{word}")


def _word(bounds: tuple[tuple[float, str], ...], value: float) -> str:
    return next(word for most, word in bounds if value < most)
