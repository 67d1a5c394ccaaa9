"""Path data (SVG 1.1, chapter 8.3) to curves.

The path libraries at hand stop with an exception at the first error, while SVG wants a path drawn up to
it (appendix F.2), and they make an object for each segment; hence this small reader of its own.
"""

import re

from peekpaper.drawing.outlines.arc import ArcTo, arc_curves
from peekpaper.drawing.outlines.path import Cubic, Path, Subpath, line, make_path

# Atomic, so that no number is taken apart to make those behind it fit. One that breaks off at its exponent is
# none, as the renderers have it.
_NUMBER = r"(?>[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)(?![eE])"
_WSP = r"[ \t\r\n\f]"
_COMMA = rf"{_WSP}*(?:,{_WSP}*)?"
_FLAG = "[01]"

_COMMANDS = re.compile(rf"{_WSP}*([MmZzLlHhVvCcSsQqTtAa])([^MmZzLlHhVvCcSsQqTtAa]*)")
_ONE_NUMBER = re.compile(_NUMBER)
_NUMBERS = re.compile(rf"{_WSP}*(?:{_NUMBER}(?:{_COMMA}{_NUMBER})*)?")
_ARC = re.compile(
    rf"{_COMMA}({_NUMBER}){_COMMA}({_NUMBER}){_COMMA}({_NUMBER}){_COMMA}({_FLAG}){_COMMA}({_FLAG})"
    rf"{_COMMA}({_NUMBER}){_COMMA}({_NUMBER})"
)
_SPACES = re.compile(rf"{_WSP}*")
_END = re.compile(_COMMA)
"""What may follow the last number of a command; a comma there is an error that all renderers forgive."""
_COUNT = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}


def read_path_data(text: str) -> tuple[Path, bool]:
    """Return the path that the `d` attribute describes, and whether all of it could be read.

    After an error the path ends with the last complete segment before it.
    """
    pen = _Pen()
    position = 0
    while match := _COMMANDS.match(text, position):
        letter, rest = match.groups()
        groups, complete = _arguments(letter.upper(), rest)
        if letter not in "Mm" and not pen.placed:
            return pen.path(), False
        if groups or letter in "Zz":
            pen.draw(letter, groups)
        if not complete:
            return pen.path(), False
        position = match.end()
    return pen.path(), _SPACES.fullmatch(text, position) is not None


def _arguments(command: str, text: str) -> tuple[list[list[float]], bool]:
    """Return the numbers of a command in groups of as many as it takes, and whether all is well."""
    count = _COUNT[command]
    if command == "A":
        return _arc_arguments(text)
    end = _NUMBERS.match(text).end()  # type: ignore[union-attr]  # it matches the empty string too
    numbers = [float(number) for number in _ONE_NUMBER.findall(text, 0, end)]
    complete = _END.fullmatch(text, end) is not None
    if count == 0:
        return [], not text.strip(" \t\r\n\f")
    whole = len(numbers) // count * count
    groups = [numbers[i : i + count] for i in range(0, whole, count)]
    return groups, complete and whole == len(numbers) and bool(groups)


def _arc_arguments(text: str) -> tuple[list[list[float]], bool]:
    groups, position = [], 0
    while match := _ARC.match(text, position):
        groups.append([float(number) for number in match.groups()])
        position = match.end()
    return groups, bool(groups) and _END.fullmatch(text, position) is not None


class _Pen:
    """Turns commands into curves, keeping the point, the subpath's start and the last handle."""

    def __init__(self) -> None:
        self._subpaths: list[Subpath] = []
        self._curves: list[Cubic] = []
        self._nodes: list[bool] = []
        self._start = 0j
        self._point = 0j
        self._handle = 0j
        self._last = ""
        self.placed = False

    def path(self) -> Path:
        self._finish(closed=False)
        return make_path(self._subpaths)

    def draw(self, letter: str, groups: list[list[float]]) -> None:
        command = letter.upper()
        if command == "Z":
            self._close()
        elif command == "M":
            self._move(groups, letter == "m")
        else:
            getattr(self, f"_draw_{command.lower()}")(groups, letter.islower())
        self._last = command

    def _finish(self, *, closed: bool) -> None:
        self._subpaths.append(Subpath(self._curves, self._nodes, closed))
        self._curves, self._nodes = [], []

    def _add(self, curve: Cubic) -> None:
        self._curves.append(curve)
        self._nodes.append(True)
        self._point = curve[3]

    def _close(self) -> None:
        if self._point != self._start or not self._curves:
            self._line_to(self._start)
        self._finish(closed=True)
        self._point = self._start

    def _move(self, groups: list[list[float]], relative: bool) -> None:
        self._finish(closed=False)
        x, y = groups[0]
        self._point = self._start = complex(x, y) + (self._point if relative else 0)
        self.placed = True
        self._draw_l(groups[1:], relative)

    def _line_to(self, end: complex) -> None:
        self._add(line(self._point, end))

    def _draw_l(self, groups: list[list[float]], relative: bool) -> None:
        for x, y in groups:
            self._line_to(complex(x, y) + (self._point if relative else 0))

    def _draw_h(self, groups: list[list[float]], relative: bool) -> None:
        for (x,) in groups:
            self._line_to(complex(x + (self._point.real if relative else 0), self._point.imag))

    def _draw_v(self, groups: list[list[float]], relative: bool) -> None:
        for (y,) in groups:
            self._line_to(complex(self._point.real, y + (self._point.imag if relative else 0)))

    def _draw_c(self, groups: list[list[float]], relative: bool) -> None:
        for x1, y1, x2, y2, x, y in groups:
            base = self._point if relative else 0
            self._handle = base + complex(x2, y2)
            self._add((self._point, base + complex(x1, y1), self._handle, base + complex(x, y)))

    def _draw_s(self, groups: list[list[float]], relative: bool) -> None:
        smooth = self._last in ("C", "S")
        for x2, y2, x, y in groups:
            base = self._point if relative else 0
            first = 2 * self._point - self._handle if smooth else self._point
            self._handle = base + complex(x2, y2)
            self._add((self._point, first, self._handle, base + complex(x, y)))
            smooth = True

    def _quadratic_to(self, handle: complex, end: complex) -> None:
        self._handle = handle
        first = self._point + (handle - self._point) * 2 / 3
        self._add((self._point, first, end + (handle - end) * 2 / 3, end))

    def _draw_q(self, groups: list[list[float]], relative: bool) -> None:
        for x1, y1, x, y in groups:
            base = self._point if relative else 0
            self._quadratic_to(base + complex(x1, y1), base + complex(x, y))

    def _draw_t(self, groups: list[list[float]], relative: bool) -> None:
        smooth = self._last in ("Q", "T")
        for x, y in groups:
            base = self._point if relative else 0
            handle = 2 * self._point - self._handle if smooth else self._point
            self._quadratic_to(handle, base + complex(x, y))
            smooth = True

    def _draw_a(self, groups: list[list[float]], relative: bool) -> None:
        for rx, ry, degrees, large, sweep, x, y in groups:
            end = complex(x, y) + (self._point if relative else 0)
            curves = arc_curves(self._point, ArcTo(rx, ry, degrees, bool(large), bool(sweep), end))
            self._curves += curves
            self._nodes += [False] * (len(curves) - 1) + [True] * bool(curves)
            self._point = end
