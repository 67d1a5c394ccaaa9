"""Which outlines match one another under turn and mirror.

By Fourier descriptors: sizes of harmonics, which stay the same under a turn, rule pairs out, and the best
turn and start come from the series themselves (Zahn and Roskies 1972, Persoon and Fu 1977, both from memory).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from peekpaper.geometry.areas import geometries
from peekpaper.geometry.elementary import hypot
from peekpaper.geometry.polyline import rows_of

_SAMPLES = 128
"""Points at equal steps along an outline, a power of two for the transform."""
_HARMONICS = 12
"""Low harmonics, which tell outlines apart before they are laid on one another: they hold nearly all of a
shape."""
_PEAKS = 4
"""The best starts that are looked at: a shape with more turns onto itself fits at any of them."""
_STARTS = 64
"""So many starts at equal steps are tried: five for each wave of the highest of the low harmonics."""
_FREQUENCIES = np.arange(-_HARMONICS, _HARMONICS + 1)
"""The low harmonics, in the order in which they are kept."""
_RATES = 2j * np.pi * _FREQUENCIES / _STARTS
"""How the low harmonics turn from one start to the next."""
_PLACES = 32
"""At so many places along them outlines are compared by their low harmonics."""
_NEWTON_STEPS = 3
"""Steps of Newton's method towards the best start between two samples."""
_DECIMALS = 9
"""Where equally good starts must not be told apart: transforms differ in the last bits by machine."""
_LOOKS = 2, 8, 1 << 30
"""How many corners are tried in a first look, in a second and in a third."""

_LOOSELY = 1.5
"""Equal steps stray along outlines that match; so many tolerances rule a pair out before a close look. Of
6,400 pairs that match in 110 published designs the farthest lie 1.2 apart."""

_REACH = 1.2
"""Nor do outlines match whose reach, or least distance from the centroid, differs by more tolerances."""
_ROUGHLY = 2.0
"""So many tolerances rule out a start that is not yet the best between two steps."""
_AT_ONCE = 250
"""How many pairs are compared at once: each takes some 10 kB meanwhile, and more at once are slower."""

_DETAIL = 0.05
"""Outlines are compared without details finer than this share of the tolerance."""


@dataclass(frozen=True, slots=True, eq=False)
class CentredOutlines:
    """Outlines about their centroids, all going round the same way.

    `nodes` (k) are their corners as complex numbers, `owner` (k) tells whose, `lines` (n) are the same as
    rings. `harmonics` (n, 25) are the low ones of the Fourier series of points at equal steps around each,
    and `across` (n, 32) unit vectors aside from what they draw. The rest stays the same under turn and
    mirror: `areas`, `lengths`, `reach` and `inner`, the greatest and the least distance from the centroid,
    (n) and `swings` (n, 25), the sizes of the harmonics. `tree` finds outlines by `inner` and by the
    harmonic `telling`, the one that differs most.
    """

    nodes: NDArray[np.complex128]
    owner: NDArray[np.int64]
    lines: NDArray[np.object_]
    harmonics: NDArray[np.complex128]
    across: NDArray[np.complex128]
    areas: NDArray[np.float64]
    lengths: NDArray[np.float64]
    reach: NDArray[np.float64]
    inner: NDArray[np.float64]
    swings: NDArray[np.float64]
    tree: shapely.STRtree
    telling: int

    def near(
        self, heads: NDArray[np.int64], tolerance: NDArray[np.float64]
    ) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """Return pairs: the places (k) in `heads` (n), in order, and outlines (k) that may match those.

        Nothing else matches a head within its `tolerance` (n).
        """
        inner, swing = self.inner[heads], self.swings[heads, self.telling]
        aside, along = _REACH * tolerance, _LOOSELY * tolerance
        boxes = shapely.box(inner - aside, swing - along, inner + aside, swing + along)
        place, found = self.tree.query(np.asarray(boxes, dtype=object))
        return place, found

    def matching(
        self, heads: NDArray[np.int64], others: NDArray[np.int64], tolerance: NDArray[np.float64]
    ) -> NDArray[np.bool_]:
        """Tell for each pair (k) whether the other outline matches the head, turned or mirrored.

        They match where no corner of the one lies farther than `tolerance` (k) from the other's line.
        """
        near = np.flatnonzero(self._worth_trying(heads, others, tolerance))
        matches = np.zeros(len(others), bool)
        if not len(near):
            return matches
        row, tries = self._tries(heads[near], others[near], tolerance[near])
        # Most outlines that match do so at the first try; the others' tries are looked at then.
        first = np.append(True, row[1:] != row[:-1])[: len(row)]
        matched = np.zeros(len(near), bool)
        matched[row[first]] = self._fit(tries.taken(first))
        rest = ~first & ~matched[row]
        matched[row[rest][self._fit(tries.taken(rest))]] = True
        matches[near] = matched
        return matches

    def turns(self, head: int, others: NDArray[np.int64], tolerance: float) -> NDArray[np.float64]:
        """Return the matrices (n, 2, 2) that lay outlines about their centroids on `head`.

        They are not finite for outlines that do not match it.
        """
        row, tries = self._tries(np.full_like(others, head), others, np.full(len(others), tolerance))
        fits = self._fit(tries)
        found = np.full((len(others), 2, 2), np.nan)
        # The best try of each comes first, so it is written last.
        for place in np.flatnonzero(fits)[::-1].tolist():
            turn, flip = tries.turn[place], -1.0 if tries.mirrored[place] else 1.0
            found[row[place]] = [[turn.real, -flip * turn.imag], [turn.imag, flip * turn.real]]
        return found

    def _worth_trying(
        self, heads: NDArray[np.int64], others: NDArray[np.int64], tolerance: NDArray[np.float64]
    ) -> NDArray[np.bool_]:
        """Tell for each pair (k) whether the outlines may match by what no turn changes."""
        near: NDArray[np.bool_] = (
            np.abs(self.areas[others] - self.areas[heads]) <= 1.1 * tolerance * self.lengths[heads]
        )
        near &= np.abs(self.reach[others] - self.reach[heads]) <= _REACH * tolerance
        near &= np.abs(self.inner[others] - self.inner[heads]) <= _REACH * tolerance
        left = np.flatnonzero(near)
        apart = ((self.swings[others[left]] - self.swings[heads[left]]) ** 2).sum(axis=1)
        near[left] = apart <= (_LOOSELY * tolerance[left]) ** 2
        return near

    def _tries(
        self, heads: NDArray[np.int64], others: NDArray[np.int64], tolerance: NDArray[np.float64]
    ) -> tuple[NDArray[np.int64], "_Tries"]:
        """Return the turns worth a close look, in the order of their pairs, and the pair that each is for."""
        rows, found = [], []
        for low in range(0, max(len(others), 1), _AT_ONCE):
            few = slice(low, low + _AT_ONCE)
            row, tries = self._few_tries(heads[few], others[few], tolerance[few])
            rows.append(low + row)
            found.append(tries)
        return np.concatenate(rows), _Tries.joined(found)

    def _few_tries(
        self, heads: NDArray[np.int64], others: NDArray[np.int64], tolerance: NDArray[np.float64]
    ) -> tuple[NDArray[np.int64], "_Tries"]:
        """Return the same for a few pairs.

        All starts are tried at once by correlating the outlines' harmonics; at the best of them the mean
        square distance of the points, least squares as in Procrustes analysis, must be small, and no place
        may lie far aside. Along the outline it may: there equal steps stray.
        """
        # Conjugates of what is laid on the heads: the others as they are, and mirrored, taken backwards.
        laid = np.stack([np.conj(self.harmonics[others]), self.harmonics[others]], axis=1)
        correlation = _at_steps(laid * self.harmonics[heads][:, None], _STARTS)
        strength = np.sqrt(correlation.real**2 + correlation.imag**2)
        energies = (self.swings[others] ** 2).sum(axis=1) + (self.swings[heads] ** 2).sum(axis=1)
        row, mirror, start = _best_starts(strength, (energies - (_LOOSELY * tolerance) ** 2) / 2)
        heads, others, tolerance = heads[row], others[row], tolerance[row]
        laid, head, across = laid[row, mirror], self.harmonics[heads], self.across[heads]
        _, strays = _laid_on(head, across, laid * np.exp(np.outer(start, _RATES)))
        near = np.flatnonzero(strays <= _ROUGHLY * tolerance)
        laid, head, across = laid[near], head[near], across[near]
        shift = _refined(laid * head, start[near])
        turns, strays = _laid_on(head, across, laid * np.exp(np.outer(shift, _RATES)))
        fits = strays <= _LOOSELY * tolerance[near]
        worth = near[fits]
        return row[worth], _Tries(
            heads[worth], others[worth], tolerance[worth], turns[fits], mirror[worth] == 1
        )

    def _fit(self, tries: "_Tries") -> NDArray[np.bool_]:
        """Tell which tries lay an outline on its head's within the tolerance, and the head's on it."""
        fits = np.ones(len(tries.outline), bool)
        for corners in _LOOKS:
            fits[fits] = self._keep_near(tries.taken(fits), corners)
        fits[fits] = self._hold(tries.taken(fits))
        return fits

    def _keep_near(self, tries: "_Tries", most: int) -> NDArray[np.bool_]:
        """Tell which outlines, turned, keep near their heads' lines; at `most` so many corners are tried."""
        which, corners = self._corners(tries.outline, most)
        placed = np.where(tries.mirrored[which], np.conj(corners), corners) * tries.turn[which]
        return self._are_near(tries.head, which, placed, tries.tolerance)

    def _hold(self, tries: "_Tries") -> NDArray[np.bool_]:
        """Tell which outlines, turned, have all of their heads' corners near their lines."""
        which, corners = self._corners(tries.head, _LOOKS[-1])
        turned = corners * np.conj(tries.turn[which])
        placed = np.where(tries.mirrored[which], np.conj(turned), turned)
        return self._are_near(tries.outline, which, placed, tries.tolerance)

    def _corners(
        self, outlines: NDArray[np.int64], most: int
    ) -> tuple[NDArray[np.int64], NDArray[np.complex128]]:
        """Return corners (k), at `most` so many for each of `outlines` (n), and whose place each is for."""
        starts = np.searchsorted(self.owner, outlines)
        counts = np.searchsorted(self.owner, outlines, side="right") - starts
        tried = np.minimum(counts, most)
        which, rank = rows_of(tried)
        return which, self.nodes[starts[which] + rank * counts[which] // tried[which]]

    def _are_near(
        self,
        outlines: NDArray[np.int64],
        which: NDArray[np.int64],
        points: NDArray[np.complex128],
        tolerance: NDArray[np.float64],
    ) -> NDArray[np.bool_]:
        """Tell which of `outlines` (n) have all of their points near; `which` tells whose each is."""
        limits: Any = tolerance[which]  # shapely takes one for each, though it only tells of one
        strays = ~shapely.dwithin(self.lines[outlines[which]], _points(points), limits)
        near: NDArray[np.bool_] = np.bincount(which, weights=strays, minlength=len(outlines)) == 0
        return near


@dataclass(frozen=True, slots=True, eq=False)
class _Tries:
    """Ways to lay outlines on others: which on which, how near, whether mirrored, what to turn it by."""

    head: NDArray[np.int64]
    outline: NDArray[np.int64]
    tolerance: NDArray[np.float64]
    turn: NDArray[np.complex128]
    mirrored: NDArray[np.bool_]

    @classmethod
    def joined(cls, every: Sequence["_Tries"]) -> "_Tries":
        """Return all tries one after another."""
        return cls(
            np.concatenate([tries.head for tries in every]),
            np.concatenate([tries.outline for tries in every]),
            np.concatenate([tries.tolerance for tries in every]),
            np.concatenate([tries.turn for tries in every]),
            np.concatenate([tries.mirrored for tries in every]),
        )

    def taken(self, which: NDArray[np.bool_]) -> "_Tries":
        """Return some of the tries."""
        return _Tries(
            self.head[which],
            self.outline[which],
            self.tolerance[which],
            self.turn[which],
            self.mirrored[which],
        )


def centred_outlines(
    polygons: NDArray[np.object_], factors: NDArray[np.float64], tolerance: NDArray[np.float64]
) -> CentredOutlines:
    """Return the outlines of polygons (n), scaled by `factors` (n), to be matched within `tolerance` (n)."""
    simpler = shapely.orient_polygons(shapely.simplify(polygons, _DETAIL * tolerance / factors))
    coordinates, owner = shapely.get_coordinates(shapely.get_exterior_ring(simpler), return_index=True)
    centres = _complex(shapely.get_coordinates(shapely.centroid(polygons)))
    nodes = (_complex(coordinates) - centres[owner]) * factors[owner]
    reach = np.zeros(len(polygons))
    np.maximum.at(reach, owner, np.abs(nodes))
    lines = geometries(shapely.linearrings(_pairs(nodes), indices=owner))
    shapely.prepare(lines)
    series = np.fft.fft(_sampled(nodes, owner, len(polygons)), axis=1, norm="forward")
    harmonics = series[:, _FREQUENCIES]
    along = _at_steps(harmonics * _RATES, _PLACES)
    swings = np.abs(harmonics)
    inner = shapely.distance(lines, shapely.Point(0, 0))
    telling = int(np.argmax(swings.var(axis=0)))
    return CentredOutlines(
        nodes=nodes,
        owner=owner,
        lines=lines,
        harmonics=harmonics,
        across=1j * along / np.maximum(np.abs(along), np.finfo(float).tiny),
        areas=shapely.area(polygons) * factors**2,
        lengths=shapely.length(lines),
        reach=reach,
        inner=inner,
        swings=swings,
        tree=shapely.STRtree(geometries(shapely.points(inner, swings[:, telling]))),
        telling=telling,
    )


def _best_starts(
    strength: NDArray[np.float64], least: NDArray[np.float64]
) -> tuple[NDArray[np.int64], NDArray[np.int64], NDArray[np.float64]]:
    """Return rows, columns and starts where outlines agree most strongly, and by `least` (n) at the least.

    `strength` (n, 2, 64) tells how strongly for each step; no more than four are found for a row and column.
    A parabola through three steps tells the best start between them.
    """
    _, strongest = _crests(strength, strength.argmax(axis=-1, keepdims=True))
    row, column = np.nonzero(strongest[:, :, 0] >= least[:, None])
    # Equally good starts must come in the same order on every machine.
    strength = np.round(strength[row, column], _DECIMALS)
    is_peak = (strength >= np.roll(strength, 1, axis=-1)) & (strength >= np.roll(strength, -1, axis=-1))
    peaks = np.argsort(np.where(is_peak, -strength, 1.0), axis=-1, kind="stable")[:, :_PEAKS]
    starts, strongest = _crests(strength, peaks)
    is_strong = np.take_along_axis(is_peak, peaks, axis=-1) & (strongest >= least[row, None])
    place, rank = np.nonzero(is_strong)
    return row[place], column[place], starts[place, rank]


def _crests(
    strength: NDArray[np.float64], steps: NDArray[np.int64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return where the parabolas through steps (..., k) and the ones beside them are highest, and how high.

    `strength` (..., 64) is that of all steps around.
    """
    before, here, after = (
        np.take_along_axis(strength, (steps + way) % _STARTS, axis=-1) for way in (-1, 0, 1)
    )
    slope, bend = (after - before) / 2, np.maximum(2 * here - before - after, 10.0**-_DECIMALS)
    aside = np.clip(slope / bend, -0.5, 0.5)
    return steps + aside, here + slope * aside / 2


def _laid_on(
    heads: NDArray[np.complex128], across: NDArray[np.complex128], laid: NDArray[np.complex128]
) -> tuple[NDArray[np.complex128], NDArray[np.float64]]:
    """Return the best turns for outlines laid on heads, and how far aside from those any place lies then.

    `heads` (n, 25) are harmonics, `laid` (n, 25) conjugates of such, `across` (n, 32) unit vectors.
    """
    agreement = (laid * heads).sum(axis=1)
    turns = agreement / np.maximum(np.abs(agreement), np.finfo(float).tiny)
    apart = _at_steps(np.conj(laid) * turns[:, None] - heads, _PLACES)
    return turns, np.abs((apart * np.conj(across)).real).max(axis=1, initial=0.0)


def _at_steps(harmonics: NDArray[np.complex128], count: int) -> NDArray[np.complex128]:
    """Return `count` values at equal steps of series that have low harmonics (..., 25) alone."""
    series = np.zeros((*harmonics.shape[:-1], count), complex)
    series[..., _FREQUENCIES] = harmonics
    return np.fft.ifft(series, norm="forward")


def _refined(common: NDArray[np.complex128], start: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the best starts between steps for outlines (n) with `common` (n, 25), near those given.

    `common` are the products of the harmonics of the one with conjugates of the other's. Newton's method
    finds the starts.
    """
    shift = start.copy()
    for _ in range(_NEWTON_STEPS):
        terms = common * np.exp(np.outer(shift, _RATES))
        value, slope, bend = (np.einsum("nk,k->n", terms, _RATES**power) for power in range(3))
        first = (np.conj(value) * slope).real
        second = np.abs(slope) ** 2 + (np.conj(value) * bend).real
        falls = second < -1e-12 * np.abs(value) ** 2
        shift -= np.clip(np.where(falls, first / np.where(falls, second, 1.0), 0.0), -0.5, 0.5)
    return shift


def _sampled(nodes: NDArray[np.complex128], owner: NDArray[np.int64], count: int) -> NDArray[np.complex128]:
    """Return points at equal steps around each of `count` rings (n, 128)."""
    ways = np.diff(nodes, prepend=nodes[:1])
    steps = hypot(ways.real, ways.imag)
    starts = np.searchsorted(owner, np.arange(count))
    steps[starts] = 1.0
    along = np.cumsum(steps)
    ends = np.append(starts[1:], len(nodes)) - 1
    wanted = along[starts][:, None] + (along[ends] - along[starts])[:, None] * (
        np.arange(_SAMPLES) / _SAMPLES
    )
    sampled: NDArray[np.complex128] = np.interp(wanted, along, nodes)
    return sampled


def _complex(points: NDArray[np.float64]) -> NDArray[np.complex128]:
    joined: NDArray[np.complex128] = points[:, 0] + 1j * points[:, 1]
    return joined


def _pairs(points: NDArray[np.complex128]) -> NDArray[np.float64]:
    return np.stack([points.real, points.imag], axis=-1)


def _points(points: NDArray[np.complex128]) -> NDArray[np.object_]:
    return geometries(shapely.points(_pairs(points)))
