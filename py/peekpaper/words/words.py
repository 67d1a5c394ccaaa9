"""Says messages in a language: its plural forms, numbers, lists and lengths.

A language's file holds, beside its words, what is needed to write numbers and lists in it (Unicode CLDR): the
rules of its plural forms, the marks for decimals and thousands, and how a list goes on and ends.
"""

import json
import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from importlib.resources import files
from typing import Any

from peekpaper.message import Figure, Message, message
from peekpaper.units import MM_PER_INCH, RULER_MM
from peekpaper.words.plurals import PluralRules

_GAP = re.compile(r"\{([\w-]+)\}")
_FIRST_STRONG = "\u2068"
_POP = "\u2069"
"""What stands between them goes the way of its first letter, whatever is around it."""
_SMALL_MM = MM_PER_INCH / 8
"""Below this a length is pictured to the 64th of an inch, above to the 32nd."""
_FINEST_MM = MM_PER_INCH / 64
_LEAST_GROUPED = 10_000
"""Smaller numbers need no mark for thousands: openings and pieces have such numbers."""
_MOST_DECIMALS = 3


@dataclass(frozen=True, slots=True)
class Language:
    """All that is said in one language.

    `tag` is its BCP 47 tag, `direction` that of its script, "ltr" or "rtl". `texts` are its words by key: a
    text, or texts by plural category. `list_parts` are what stands between a list's parts: of two, between
    two of several, before the last of several.
    """

    tag: str
    direction: str
    plurals: PluralRules
    decimal: str
    group: str
    list_parts: tuple[str, str, str]
    texts: Mapping[str, str | Mapping[str, str]]

    def say(self, said: Message, unit: str = "mm") -> str:
        """Return a message in this language, its lengths in `unit` ("in" or "mm").

        Raises KeyError where the language has no words for it.
        """
        text = self.texts[said.key]
        if not isinstance(text, str):
            count = said.figures["count"]
            assert isinstance(count, int | float)
            text = text.get(self.plurals.category(count)) or text["other"]
        written = self._written(said.figures, unit)
        return _GAP.sub(lambda gap: written[gap[1]], text)

    def text(self, key: str, /, **figures: Figure) -> str:
        """Return what stands under a key, filled in; lengths in mm."""
        return self.say(message(key, **figures))

    def number(self, value: float, decimals: int = _MOST_DECIMALS) -> str:
        """Return a number with so many decimals at most."""
        whole, _, rest = f"{abs(value):.{decimals}f}".partition(".")
        rest = rest.rstrip("0")
        if int(whole) >= _LEAST_GROUPED:
            whole = f"{int(whole):,}".replace(",", self.group)
        sign = "-" if value < 0 and (int(whole.replace(self.group, "") or "0") or rest) else ""
        return sign + whole + (self.decimal + rest if rest else "")

    def listed(self, parts: Sequence[str]) -> str:
        """Return texts as a list read aloud: "a, b and c"."""
        two, between, last = self.list_parts
        if len(parts) < 3:
            return two.join(parts)
        return between.join(parts[:-1]) + last + parts[-1]

    def runs(self, numbers: Sequence[int]) -> str:
        """Return whole numbers as read aloud, three or more in a row as a run: "3, 5 and 7–12"."""
        return self.listed(list(_runs(sorted(numbers))))

    def _isolated(self, text: str) -> str:
        """Return a name or length so that, where one reads leftwards, it turns nothing around it.

        The marks are those of Unicode Standard Annex 9.
        """
        return text if self.direction == "ltr" or not text else f"{_FIRST_STRONG}{bare(text)}{_POP}"

    def money(self, amount: float) -> str:
        """Return an amount of money with two decimals, in whatever currency its prices are."""
        return f"{amount:.2f}".replace(".", self.decimal)

    def length(self, mm: float, unit: str) -> str:
        """Return a length as it is pictured, as `_about` writes it."""
        return self._isolated(f"{self._about(mm, unit)} {unit}")

    def size(self, width_mm: float, height_mm: float, unit: str) -> str:
        """Return width and height as they are pictured: `2 1/2 x 3 in`."""
        return self._size(self._about(width_mm, unit), self._about(height_mm, unit), unit)

    def size_at_least(self, width_mm: float, height_mm: float, unit: str) -> str:
        """Return width and height as a ruler has them, rounded up: for what is to be cut."""
        step = RULER_MM[unit]
        across, down = (self._on_ruler(math.ceil(side / step - 1e-3), unit) for side in (width_mm, height_mm))
        return self._size(across, down, unit)

    def _size(self, across: str, down: str, unit: str) -> str:
        return self._isolated(f"{across} x {down} {unit}")

    def _on_ruler(self, steps: int, unit: str) -> str:
        """Return a length of so many of a ruler's usual steps."""
        return self.number(steps / 10) if unit == "mm" else _mixed(Fraction(steps, 32))

    def _written(self, figures: Mapping[str, Figure], unit: str) -> dict[str, str]:
        lengths = {
            name: mm for name, mm in figures.items() if isinstance(mm, int | float) and _is_length(name)
        }
        others = {name: figure for name, figure in figures.items() if name not in lengths}
        return {
            **{
                name.removesuffix("_mm2"): self._figure(name, figure, unit) for name, figure in others.items()
            },
            **self._lengths(lengths, unit),
        }

    def _figure(self, name: str, figure: Figure, unit: str) -> str:
        if isinstance(figure, Message):
            return self.say(figure, unit)
        if isinstance(figure, str):
            return self._isolated(figure)
        if isinstance(figure, tuple):
            numbers = [part for part in figure if isinstance(part, int)]
            if numbers:
                return self.runs(numbers)
            parts = [self._figure(name, part, unit) for part in figure]
            if any(isinstance(part, Message | tuple) for part in figure):
                return self.text("list.clauses").join(parts)
            return self.listed(parts)
        return self._area(figure, unit) if name.endswith("_mm2") else self.number(figure)

    def _area(self, mm2: float, unit: str) -> str:
        """Return an area; in inches, where a person knows no small areas, the sides of a square as large."""
        if unit == "in":
            side = self._about(math.sqrt(mm2), unit)
            return self._isolated(f"{side} × {side} in")
        metric = f"{self.number(mm2, 0)} mm²" if mm2 < 100 else f"{self.number(mm2 / 100, 0)} cm²"
        return self._isolated(metric)

    def _lengths(self, lengths: Mapping[str, float], unit: str) -> dict[str, str]:
        """Return lengths as they are pictured, different ones never as the same.

        Millimetres are written finer where they have to be. A ruler in inches has nothing finer: there the
        shorter is "just under" the longer.
        """
        told: dict[str, str] = {}
        for finer in range(_MOST_DECIMALS if unit == "mm" else 1):
            told = {name: self._said_length(name, mm, unit, finer) for name, mm in lengths.items()}
            compared = [name for name in told if not _is_side_or_bound(name)]
            if len({told[name] for name in compared}) == len({lengths[name] for name in compared}):
                break
        if unit == "in":
            longest: dict[str, float] = {}
            for name in compared:
                longest[told[name]] = max(lengths[name], longest.get(told[name], 0.0))
            told |= {
                name: self.text("length.just-under", width=told[name])
                for name in compared
                if lengths[name] < longest[told[name]]
            }
        return {_place(name): text for name, text in told.items()}

    def _said_length(self, name: str, mm: float, unit: str, finer: int) -> str:
        if name.endswith("_least_mm"):
            mm = math.ceil(mm / RULER_MM[unit] - 1e-6) * RULER_MM[unit]
        elif name.endswith("_most_mm"):
            mm = math.floor(mm / RULER_MM[unit] + 1e-6) * RULER_MM[unit]
        elif unit == "in" and 0 < mm < _FINEST_MM / 2:
            return self.text("length.finer", width=f"{self._about(_FINEST_MM, unit)} in")
        return self._isolated(f"{self._about(mm, unit, finer)} {unit}")

    def _about(self, mm: float, unit: str, finer: int = 0) -> str:
        """Return a length as it is pictured, in mm finer by so many decimals.

        Inches are written as they are set where that is whole hundredths, else as the nearest fraction that a
        ruler has.
        """
        if unit == "mm":
            return self.number(mm, (2 if abs(mm) < 1 else 1) + finer)
        inches = mm / MM_PER_INCH
        if _is_whole(inches * 100, 1e-3) and not _is_whole(inches * 16, 0.01):
            return self.number(inches, 2)
        parts = 64 if abs(mm) < _SMALL_MM else 32
        return _mixed(Fraction(round(inches * parts), parts))


def bare(text: str) -> str:
    """Return a text without the marks that keep directions apart: for the names of files."""
    return text.replace(_FIRST_STRONG, "").replace(_POP, "")


def words_of(file: Mapping[str, Any]) -> Language:
    """Return the words in the file of a language, as JSON has it."""
    language = file["language"]
    two, between, last = language["list"]
    return Language(
        language["tag"],
        language["direction"],
        PluralRules(language["plurals"]),
        language["decimal"],
        language["group"],
        (two, between, last),
        file["words"],
    )


@lru_cache(maxsize=8)
def read_words(tag: str) -> Language:
    """Return the words of a language by its BCP 47 tag. Raises KeyError where there are none."""
    if tag not in languages():
        raise KeyError(tag)
    return words_of(json.loads(files("peekpaper.words").joinpath(f"{tag}.json").read_text(encoding="utf-8")))


def languages() -> list[str]:
    """Return the BCP 47 tags of all languages that there are words for."""
    names = (file.name for file in files("peekpaper.words").iterdir())
    return sorted(name.removesuffix(".json") for name in names if name.endswith(".json"))


def _is_whole(value: float, within: float) -> bool:
    return abs(value - round(value)) <= within


def _is_length(name: str) -> bool:
    return name.endswith("_mm")


def _place(name: str) -> str:
    """Return the place that a length fills."""
    return name.removesuffix("_mm").removesuffix("_least").removesuffix("_most")


def _is_side_or_bound(name: str) -> bool:
    """Tell whether a length may well be the same as another: sides, and what was rounded up or down."""
    return name.endswith(("_least_mm", "_most_mm")) or _place(name).endswith(("width", "height"))


def _mixed(inches: Fraction) -> str:
    whole, rest = divmod(abs(inches), 1)
    words = " ".join(str(part) for part in (whole, rest) if part) or "0"
    return f"-{words}" if inches < 0 else words


def _runs(numbers: Sequence[int]) -> Iterator[str]:
    runs: list[list[int]] = []
    for number in numbers:
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    for run in runs:
        if len(run) > 2:
            yield f"{run[0]}–{run[-1]}"
        else:
            yield from map(str, run)
