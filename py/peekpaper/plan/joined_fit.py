"""Fits pieces by joining them where their outlines tell how, and what is joined by other ways."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely import Polygon

from peekpaper.grid import grown, one_grown
from peekpaper.papers.paper import Direction
from peekpaper.plan.cluster import Cluster, Place, laid, place_after
from peekpaper.plan.distance_field import make_distance_fields
from peekpaper.plan.doubts import doubtful_matches
from peekpaper.plan.first import first_layouts
from peekpaper.plan.fit import Fit
from peekpaper.plan.improve import Improver
from peekpaper.plan.joining import Joining, Way, smallest_box
from peekpaper.plan.kit import Kit, make_kit
from peekpaper.plan.plan import PieceToPlace
from peekpaper.plan.shape import Pose, make_shape
from peekpaper.plan.task import PaperTask
from peekpaper.plan.turns import turned

CRACK_MM = 0.03
MITRE = 10.0


class JoinedFit:
    """Joins the pieces of a kit; `kit` has the joined ones in the end. `solution` is there if all are one.

    `doubts` are the way's, and in the end those of its own joints, too, that nothing else bears out.
    """

    def __init__(self, kit: Kit, direction: Direction, way: Way) -> None:
        self.solution: Mapping[int, Pose] | None = None
        self.kit = kit
        self.doubts = way.doubts
        self._direction = direction
        self._outlines = [Polygon(ring) for ring in kit.rings]
        self._crack = CRACK_MM + way.exactness.noise_mm
        self._joining = Joining(self._outlines, direction, way)

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
        self.doubts |= doubtful_matches(clusters)
        yield
        if len(clusters) == 1:
            turn = smallest_box(self._laid(clusters[0]))[1] if self._direction is Direction.ANY else 0.0
            self.solution = poses_of(clusters[0], Pose(0.0, 0.0, math.degrees(turn)))
        else:
            self.kit = make_kit([self._outline(cluster) for cluster in clusters], self._direction)

    def _laid(self, cluster: Cluster) -> list[Polygon]:
        return [laid(self._outlines[piece], place) for piece, place in sorted(cluster.places.items())]

    def _outline(self, cluster: Cluster) -> Polygon:
        """Return the outline of a cluster, its cracks closed and holes filled."""
        laid_pieces = self._laid(cluster)
        if len(laid_pieces) == 1:
            return laid_pieces[0]
        parts = np.array(laid_pieces, dtype=object)
        wide = shapely.union_all(grown(parts, self._crack, 8, join_style="mitre", mitre_limit=MITRE))
        whole = one_grown(wide, -self._crack, join_style="mitre", mitre_limit=MITRE)
        largest = max(shapely.get_parts(whole), key=lambda part: float(part.area))
        return Polygon(largest.exterior)


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


class MovedClusters:
    """Joined pieces moved about like pieces by overlap minimisation, told as the pieces themselves."""

    def __init__(self, task: PaperTask, kit: Kit, clusters: Sequence[Cluster], patience: int) -> None:
        self.solution: Mapping[int, Pose] | None = None
        half = task.choices.spacing_mm / 2
        outlines = [Polygon(ring) for ring in kit.rings]
        if half > 0:
            outlines = list(grown(np.array(outlines, dtype=object), -half, 8, join_style="mitre"))
        self._clusters = clusters
        self._shapes = tuple(
            make_shape(PieceToPlace(number, task.paper.id, outline, number))
            for number, outline in enumerate(outlines)
        )
        fields = make_distance_fields(self._shapes, task.fields.reach_mm)
        whole = replace(task, shapes=self._shapes, fields=fields, scraps=(), trim_pins=(), pinned={})
        layouts = first_layouts(whole)
        self._improver = Improver(whole, layouts[0])
        self._patience = self._left = patience if len(layouts) == 1 else 0

    @property
    def is_done(self) -> bool:
        """Whether nothing more is to be tried."""
        return self._improver.is_done or self._left <= 0

    def round(self) -> Iterator[None]:
        """Work a little; yields to let the caller breathe."""
        before = self._improver.best
        yield from self._improver.round()
        self._left = self._left - 1 if self._improver.best is before else self._patience
        if self._improver.best is before and self.solution is not None:
            return
        poses: dict[int, Pose] = {}
        for number, pose in self._improver.best.poses.items():
            poses |= poses_of(self._clusters[number], self._in_cluster(number, pose))
        self.solution = poses

    def _in_cluster(self, number: int, pose: Pose) -> Pose:
        """Return the pose of a cluster's own origin where its shape lies at `pose`."""
        x, y = turned(np.array([self._shapes[number].centre]), pose.turn_deg)[0]
        return Pose(pose.x_mm - float(x), pose.y_mm - float(y), pose.turn_deg)


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
