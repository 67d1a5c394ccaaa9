"""Rows of scalloped waves: every scallop a pale crest over a darker body, each row lapped by the next."""

from collections.abc import Iterator
from dataclasses import dataclass

from peekpaper.demo.pen import Arc, Line, Outline, Side


@dataclass(frozen=True, slots=True)
class Waves:
    """Scallops in rows between two upright edges, the lowest row standing on `floor`.

    Each row is `pitch` above the next and shifted by half a scallop; `bar` is the card left between
    scallops, `crest_bar` that between crest and body.
    """

    left: float
    right: float
    floor: float
    rows: int
    scallops: int
    pitch: float
    bar: float
    crest: float
    crest_bar: float

    @property
    def half(self) -> float:
        """Half the distance between the scallops of a row."""
        return (self.right - self.left) / self.scallops / 2

    @property
    def radius(self) -> float:
        """The radius of a crest's outer edge."""
        return self.half - self.bar / 2

    @property
    def lap(self) -> float:
        """The radius at which the row above ends, a bar away from a crest."""
        return self.half + self.bar / 2

    def centres(self, row: int) -> list[complex]:
        """Return the centres of a row's scallops, row 0 on the floor; odd rows end in halves."""
        y = self.floor - row * self.pitch
        count, first = (
            (self.scallops, self.left + self.half) if row % 2 == 0 else (self.scallops + 1, self.left)
        )
        return [complex(first + 2 * self.half * i, y) for i in range(count)]

    def above(self, centre: complex, x: float) -> complex:
        """Return the point at `x` a bar above the crest about `centre`."""
        return complex(x, centre.imag - (self.lap**2 - (x - centre.real) ** 2) ** 0.5)

    def outlines(self, row: int) -> Iterator[tuple[str, Outline]]:
        """Yield ("crest" or "body", outline) for every scallop of a row."""
        radii = {"crest": self.radius, "body": self.radius - self.crest - self.crest_bar}
        centres = self.centres(row)
        for i, centre in enumerate(centres):
            on_left, on_right = row % 2 and i == 0, row % 2 and i == len(centres) - 1
            for part, radius in radii.items():
                right_half = self._right_half(centre, row, part, radius)
                if on_left:
                    yield part, right_half
                elif on_right:
                    yield part, right_half.mirrored(centre.real)
                else:
                    yield part, _doubled(right_half, centre.real)

    def _right_half(self, centre: complex, row: int, part: str, radius: float) -> Outline:
        """Return the way from the top of a part down its right side to its lowest point at the middle."""
        outer = self._foot(centre, row, radius)
        sides: list[Side] = [Arc(outer, radius)]
        if part == "crest":
            inner_radius = radius - self.crest
            inner = self._foot(centre, row, inner_radius)
            sides += [
                self._along_lap(inner, row),
                Arc(centre - inner_radius * 1j, inner_radius, clockwise=False),
            ]
        elif row == 0:
            sides.append(Line(centre))
        else:
            dip = (self.lap**2 - self.half**2) ** 0.5
            sides.append(self._along_lap(centre + (self.pitch - dip) * 1j, row))
        return Outline(centre - radius * 1j, tuple(sides))

    def _along_lap(self, end: complex, row: int) -> Side:
        return Arc(end, self.lap, clockwise=False) if row else Line(end)

    def _foot(self, centre: complex, row: int, radius: float) -> complex:
        """Return where the circle about `centre` meets the right scallop of the next row, or the floor."""
        if row == 0:
            return centre + radius
        across = complex(self.half, self.pitch)
        distance = abs(across)
        along = (distance**2 + radius**2 - self.lap**2) / (2 * distance)
        aside = (radius**2 - along**2) ** 0.5
        return centre + across / distance * complex(along, -aside)


def _doubled(right_half: Outline, x: float) -> Outline:
    """Return a right half joined with its mirror image in the upright line at `x`."""
    ends = [right_half.start, *(side.end for side in right_half.sides)]
    back: list[Side] = []
    for begin, side in zip(reversed(ends[:-1]), reversed(right_half.sides), strict=True):
        target = complex(2 * x - begin.real, begin.imag)
        back.append(Arc(target, side.radius, side.clockwise) if isinstance(side, Arc) else Line(target))
    return Outline(right_half.start, (*right_half.sides, *back))
