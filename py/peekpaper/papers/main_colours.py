"""The few colours that a picture is mostly made of."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from peekpaper.pixels import hex_of, lab_from_srgb, linear_from_srgb, plain_sample, srgb_from_linear

_ROUNDS = 20
_DOMINANT = 0.4
_ONE_COLOUR = 12.0


@dataclass(frozen=True, slots=True)
class MainColour:
    """One of the colours of a picture as `#rrggbb`, and how much of it is near that colour (0 to 1)."""

    colour: str
    share: float


def main_colours(picture: NDArray[np.uint8], count: int) -> tuple[MainColour, ...]:
    """Return up to `count` colours that sum up an RGBA picture, the commonest first.

    The pixels are gathered about means in CIELAB (Lloyd, "Least squares quantization in PCM", 1982),
    beginning with the pixels that lie farthest apart; the same picture gives the same colours.
    A picture that is see-through all over has none.
    """
    sample = plain_sample(picture)
    if len(sample) == 0:
        return ()
    lab = lab_from_srgb(sample)
    nearest = _merged(lab, _gather(lab, _strewn(lab, count)))
    groups = [sample[nearest == group] for group in np.unique(nearest)]
    colours = [MainColour(_mean_colour(group), len(group) / len(sample)) for group in groups]
    return tuple(sorted(colours, key=lambda colour: -colour.share))


def plain_colour(picture: NDArray[np.uint8]) -> str:
    """Return the one colour (`#rrggbb`) that stands for an RGBA picture of a paper seen flat.

    That is the ground where one colour takes up enough of it, else the mean of its light, as from afar.
    A picture that is see-through all over is white.
    """
    colours = main_colours(picture, 4)
    if not colours:
        return "#ffffff"
    if colours[0].share >= _DOMINANT:
        return colours[0].colour
    return _mean_colour(plain_sample(picture))


def _mean_colour(sample: NDArray[np.uint8]) -> str:
    return hex_of(srgb_from_linear(linear_from_srgb(sample).mean(axis=0)))


def _strewn(lab: NDArray[np.float64], count: int) -> NDArray[np.float64]:
    """Return `count` points that begin at the mean's nearest and each lie farthest from those before."""
    first = int(np.argmin(((lab - lab.mean(axis=0)) ** 2).sum(axis=1)))
    chosen = [first]
    away = ((lab - lab[first]) ** 2).sum(axis=1)
    while len(chosen) < count and away.max() > 0:
        chosen.append(int(np.argmax(away)))
        away = np.minimum(away, ((lab - lab[chosen[-1]]) ** 2).sum(axis=1))
    return lab[chosen]


def _gather(lab: NDArray[np.float64], means: NDArray[np.float64]) -> NDArray[np.intp]:
    """Return for each point the place of its mean, once means and points have settled."""
    nearest = np.zeros(len(lab), dtype=np.intp)
    for _ in range(_ROUNDS):
        before = nearest
        nearest = ((lab[:, None, :] - means[None]) ** 2).sum(axis=2).argmin(axis=1)
        if (nearest == before).all():
            break
        means = np.array(
            [
                lab[nearest == place].mean(axis=0) if (nearest == place).any() else means[place]
                for place in range(len(means))
            ]
        )
    return nearest


def _merged(lab: NDArray[np.float64], nearest: NDArray[np.intp]) -> NDArray[np.intp]:
    """Return the groups with those merged whose means are one colour but for its grain, nearest first."""
    while True:
        groups = np.unique(nearest)
        means = np.array([lab[nearest == group].mean(axis=0) for group in groups])
        apart = np.linalg.norm(means[:, None] - means[None], axis=2) + np.diag(np.full(len(groups), np.inf))
        if apart.min() >= _ONE_COLOUR:
            return nearest
        first, second = np.unravel_index(int(apart.argmin()), apart.shape)
        nearest = np.where(nearest == groups[second], groups[first], nearest)
