"""Fits pieces by joining them where their outlines tell how, and what is joined by other ways."""

import math
from collections.abc import Iterator, Mapping

from shapely import Polygon

from peekpaper.papers.paper import Direction
from peekpaper.plan.fit import Fit
from peekpaper.plan.joining import Cluster, Joining, Place, place_after, smallest_box
from peekpaper.plan.kit import Kit, make_kit
from peekpaper.plan.shape import Pose


class JoinedFit:
    """Joins the pieces of a kit; `kit` has the joined ones in the end. `solution` is there if all are one."""

    def __init__(self, kit: Kit, direction: Direction, margin_bits: float, slack: float) -> None:
        self.solution: Mapping[int, Pose] | None = None
        self.kit = kit
        self._direction = direction
        self._joining = Joining([Polygon(ring) for ring in kit.rings], direction, margin_bits, slack)

    @property
    def is_done(self) -> bool:
        """Tell whether no two of the pieces can be joined."""
        return self._joining.is_done

    @property
    def clusters(self) -> list[Cluster]:
        """What has been joined."""
        return list(self._joining.clusters.values())

    def round(self) -> Iterator[None]:
        """Join some pieces; yields to let the caller breathe."""
        yield from self._joining.round()
        if not self._joining.is_done:
            return
        clusters = self.clusters
        if len(clusters) == 1:
            turn = smallest_box(clusters[0].outline)[1] if self._direction is Direction.ANY else 0.0
            self.solution = poses_of(clusters[0], Pose(0.0, 0.0, math.degrees(turn)))
        else:
            self.kit = make_kit([cluster.outline for cluster in clusters], self._direction)


class FitOfClusters:
    """A fit of joined pieces, told as one of the pieces themselves."""

    def __init__(self, fit: Fit, clusters: list[Cluster]) -> None:
        self._fit = fit
        self._clusters = clusters

    @property
    def solution(self) -> Mapping[int, Pose] | None:
        """The poses found."""
        if self._fit.solution is None:
            return None
        poses: dict[int, Pose] = {}
        for number, pose in self._fit.solution.items():
            poses |= poses_of(self._clusters[number], pose)
        return poses

    @property
    def is_done(self) -> bool:
        """Whether a way was found, or none is left."""
        return self._fit.is_done

    def round(self) -> Iterator[None]:
        """Work a little; yields to let the caller breathe."""
        yield from self._fit.round()


def poses_of(cluster: Cluster, pose: Pose) -> dict[int, Pose]:
    """Return the poses of a cluster's pieces where the cluster lies at `pose`."""
    there: Place = (math.radians(pose.turn_deg), pose.x_mm, pose.y_mm)
    poses = {}
    for piece, place in cluster.places.items():
        turn, x, y = place_after(place, there)
        degrees = math.degrees(turn) % 360.0
        quarter = round(degrees / 90.0) * 90.0
        poses[piece] = Pose(x, y, quarter % 360.0 if abs(degrees - quarter) < 1e-7 else degrees)
    return poses
