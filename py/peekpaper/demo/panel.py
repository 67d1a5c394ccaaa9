"""The harbour panel: a lighthouse, a sun, a boat, gulls and stars over rows of waves, in a card frame."""

from collections.abc import Iterator
from dataclasses import dataclass

from peekpaper.demo.outlines import circle, gull, ray, rectangle, rounded_rectangle, star
from peekpaper.demo.pen import Arc, Curve, Line, Outline, path_data
from peekpaper.demo.waves import Waves

WIDTH, HEIGHT = 800, 1000
"""The panel's size in hundredths of an inch, the unit of everything here."""

_LEFT, _TOP, _RIGHT, _BOTTOM = 64, 64, 736, 936
_WAVES = Waves(
    left=_LEFT, right=_RIGHT, floor=_BOTTOM, rows=4, scallops=6, pitch=45, bar=8, crest=15, crest_bar=7
)
_TOWER_X = 568.0
_SUN = 230 + 292j
_BOAT_X = 232.0


@dataclass(frozen=True, slots=True)
class Part:
    """One opening of the panel and what it shows."""

    name: str
    outline: Outline


def parts() -> Iterator[Part]:
    """Yield every opening of the panel."""
    yield from _border()
    for row in range(_WAVES.rows):
        for name, outline in _WAVES.outlines(row):
            yield Part(f"{name} {row}", outline)
    yield from _lighthouse()
    yield from _rocks()
    yield Part("sun", circle(_SUN, 62))
    for i in range(12):
        yield Part("ray", ray(_SUN, 78, 152, 15).turned(30 * i, _SUN))
    yield from _boat()
    yield from _clouds()
    for centre, span in ((412 + 420j, 92), (446 + 520j, 72), (352 + 500j, 60)):
        yield Part("gull", gull(centre, span))
    for centre, radius in (
        (130 + 128j, 24), (408 + 128j, 24), (668 + 150j, 24),
        (484 + 208j, 16), (692 + 262j, 16), (650 + 372j, 16), (118 + 470j, 16),
    ):  # fmt: skip
        yield Part("star" if radius > 20 else "small star", star(centre, radius))
    for centre in (330 + 112j, 500 + 120j, 700 + 330j, 82 + 178j, 640 + 236j):
        yield Part("spark", circle(centre, 4))


def svg_text() -> str:
    """Return the panel as SVG: one even-odd path, the frame's outside first, the loose porthole last."""
    outlines = [rounded_rectangle(0, 0, WIDTH, HEIGHT, 36), *(part.outline for part in parts()), _porthole()]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="8in" height="10in" viewBox="0 0 {WIDTH} {HEIGHT}">'
        f'<path fill="#22304a" fill-rule="evenodd" d="{path_data(outlines)}"/></svg>'
    )


def _border() -> Iterator[Part]:
    near, broad, bar, corner = 24.0, 28.0, 10.0, 15.0
    for x in (near + broad / 2, WIDTH - near - broad / 2):
        for y in (near + broad / 2, HEIGHT - near - broad / 2):
            yield Part("corner", circle(complex(x, y), corner))
    long = (_RIGHT - _LEFT - 2 * bar) / 3
    for i in range(3):
        for y in (near, HEIGHT - near - broad):
            yield Part("border", rounded_rectangle(_LEFT + i * (long + bar), y, long, broad, 6))
    long = (_BOTTOM - _TOP - 3 * bar) / 4
    for i in range(4):
        for x in (near, WIDTH - near - broad):
            yield Part("border", rounded_rectangle(x, _TOP + i * (long + bar), broad, long, 6))


def _lighthouse() -> Iterator[Part]:
    base, top, wide, narrow, bands, bar = 662.0, 326.0, 64.0, 44.0, 6, 9.0
    height = (base - top - (bands - 1) * bar) / bands

    def half_width(y: float) -> float:
        return narrow + (wide - narrow) * (y - top) / (base - top)

    for i in range(bands):
        upper = top + i * (height + bar)
        if i < bands - 1:
            yield Part(f"band {i % 2}", _band(half_width(upper), half_width(upper + height), upper, height))
        else:
            side = _band_side(half_width(upper), half_width(upper + height), upper, height, door=17 + 8)
            yield Part(f"band {i % 2}", side)
            yield Part(f"band {i % 2}", side.mirrored(_TOWER_X))
            yield Part("door", _door(upper + 2, base))
    yield Part("deck", rounded_rectangle(_TOWER_X - 70, 300, 140, 14, 5))
    for i in range(4):
        yield Part("pane", rectangle(_TOWER_X - 46 + 52 * (i % 2), 194 + 52 * (i // 2), 40, 40))
    for x in (-66, -56, 60, 50):
        yield Part("rail", rectangle(_TOWER_X + x, 264, 6, 30))
    yield Part("dome", _dome())
    yield Part("finial", circle(complex(_TOWER_X, 112), 9))


def _band(upper_half: float, lower_half: float, y: float, height: float) -> Outline:
    return Outline(
        complex(_TOWER_X - upper_half, y),
        (
            Arc(complex(_TOWER_X + upper_half, y), 5 * upper_half),
            Line(complex(_TOWER_X + lower_half, y + height)),
            Arc(complex(_TOWER_X - lower_half, y + height), 5 * lower_half, clockwise=False),
        ),
    )


def _band_side(upper_half: float, lower_half: float, y: float, height: float, door: float) -> Outline:
    """Return the left half of a band up to `door` from the tower's middle."""
    rise = 4.0
    return Outline(
        complex(_TOWER_X - upper_half, y),
        (
            Arc(complex(_TOWER_X - door, y - rise), 5 * upper_half),
            Line(complex(_TOWER_X - door, y + height - rise)),
            Arc(complex(_TOWER_X - lower_half, y + height), 5 * lower_half, clockwise=False),
        ),
    )


def _door(top: float, base: float) -> Outline:
    left, right = _TOWER_X - 17, _TOWER_X + 17
    return Outline(
        complex(left, base - 5),
        (Line(complex(left, top + 11)), Arc(complex(right, top + 11), 17), Line(complex(right, base - 5))),
    )


def _dome() -> Outline:
    left, right, foot, peak = _TOWER_X - 56, _TOWER_X + 56, 184.0, 130.0
    return Outline(
        complex(left, foot),
        (
            Curve(complex(left + 6, foot - 26), complex(_TOWER_X - 20, peak + 8), complex(_TOWER_X, peak)),
            Curve(complex(_TOWER_X + 20, peak + 8), complex(right - 6, foot - 26), complex(right, foot)),
        ),
    )


def _rocks() -> Iterator[Part]:
    """Yield the rocks under the tower, each in the hollows of the topmost waves."""
    tops = ((406, 730, 452, 700), (460, 694, 564, 672), (572, 672, 676, 690), (684, 698, _RIGHT, 716))
    waves = _WAVES.centres(_WAVES.rows - 1)[-len(tops) :]
    for (left, left_top, right, right_top), wave in zip(tops, waves, strict=True):
        foot, start, end = _WAVES.above(wave, left), complex(left, left_top), complex(right, right_top)
        reach = (right - left) / 3
        sides = (
            Line(start),
            Curve(start + reach - 9j, end - reach - 9j, end),
            Line(_WAVES.above(wave, right)),
            Arc(foot, _WAVES.lap, clockwise=False),
        )
        yield Part("rock", Outline(foot, sides))


def _clouds() -> Iterator[Part]:
    for left, foot, faces_left in ((394.0, 266.0, False), (74.0, 560.0, True), (634.0, 486.0, False)):
        sides = (
            Arc(complex(left + 22, foot - 26), 18),
            Arc(complex(left + 68, foot - 26), 25),
            Arc(complex(left + 92, foot), 18),
        )
        cloud = Outline(complex(left, foot), sides)
        yield Part("cloud", cloud.mirrored(left + 46) if faces_left else cloud)


def _boat() -> Iterator[Part]:
    x = _BOAT_X
    yield Part(
        "hull",
        Outline(
            complex(x - 92, 684),
            (
                Line(complex(x + 96, 684)),
                Curve(complex(x + 88, 712), complex(x + 70, 724), complex(x + 48, 728)),
                Line(complex(x - 50, 728)),
                Curve(complex(x - 74, 722), complex(x - 86, 706), complex(x - 92, 684)),
            ),
        ),
    )
    yield Part(
        "main sail",
        Outline(
            complex(x + 5, 486),
            (
                Curve(complex(x + 52, 540), complex(x + 82, 610), complex(x + 86, 672)),
                Line(complex(x + 5, 672)),
            ),
        ),
    )
    yield Part(
        "jib",
        Outline(
            complex(x - 5, 512),
            (
                Line(complex(x - 5, 672)),
                Line(complex(x - 78, 672)),
                Curve(complex(x - 52, 630), complex(x - 22, 580), complex(x - 5, 512)),
            ),
        ),
    )


def _porthole() -> Outline:
    return circle(complex(_BOAT_X + 40, 704), 10)
