"""What is to be planned for one paper, made ready once: shapes, sizes, scraps and pins."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from shapely import Polygon

from peekpaper.papers.paper import Paper, Scrap, Shelf
from peekpaper.plan.plan import PieceToPlace, PlanChoices, TrimPin
from peekpaper.plan.shapes.shape import Pose, Shape, make_shape
from peekpaper.plan.trims.pins import piece_pins_that_hold
from peekpaper.plan.trims.sizes import EPSILON, Size, largest_sizes, largest_trims


@dataclass(frozen=True, slots=True)
class PaperTask:
    """One paper with its pieces.

    A trim may be no larger than one of `largest` (mm). `pinned` holds the poses of pieces that the person
    laid by hand, by trim id and index of the shape.
    """

    paper: Paper
    shapes: tuple[Shape, ...]
    largest: tuple[Size, ...]
    scraps: tuple[Scrap, ...]
    trim_pins: tuple[TrimPin, ...]
    pinned: Mapping[str, Mapping[int, Pose]]
    choices: PlanChoices


def largest_of_scrap(scrap: Scrap, task: PaperTask) -> tuple[Size, ...]:
    """Return the largest trims of a scrap that the mat takes, as `largest_sizes` does.

    A scrap that is no rectangle goes on the mat whole or not at all.
    """
    whole = (scrap.width_mm, scrap.height_mm)
    sizes = largest_sizes(whole, task.paper.direction, task.choices)
    return tuple(size for size in sizes if size == whole) if scrap.outline else sizes


def outline_of(scrap: Scrap) -> Polygon | None:
    """Return the outline of a scrap that is no rectangle."""
    return Polygon(scrap.outline) if scrap.outline else None


def on_scrap(task: PaperTask, scrap: str | None) -> PaperTask:
    """Return the task for a trim that must stay within one of its scraps; the same one for none."""
    return next(
        (replace(task, largest=largest_of_scrap(one, task)) for one in task.scraps if one.id == scrap), task
    )


def leaves_a_scrap(scrap: Scrap, trim: Size, choices: PlanChoices) -> bool:
    """Tell whether what is left of a scrap beside a trim at its corner, however it lies, is worth keeping."""
    least = choices.least_scrap_mm - EPSILON
    ways = ((scrap.width_mm - wide, scrap.height_mm - high) for wide, high in (trim, trim[::-1]))
    left = next((way for way in ways if min(way) >= -EPSILON), (0.0, 0.0))
    return max(left) >= least and min(scrap.width_mm, scrap.height_mm) >= least


def make_tasks(pieces: Sequence[PieceToPlace], shelf: Shelf, choices: PlanChoices) -> Iterator[PaperTask]:
    """Yield a task for each paper that has pieces, in the shelf's order."""
    for paper in shelf.papers:
        shapes = tuple(make_shape(piece) for piece in pieces if piece.paper == paper.id)
        if shapes:
            yield _make_task(paper, shapes, shelf.scraps, choices)


def _make_task(
    paper: Paper, shapes: tuple[Shape, ...], scraps: Sequence[Scrap], choices: PlanChoices
) -> PaperTask:
    index_of = {shape.piece.number: index for index, shape in enumerate(shapes)}
    pinned: dict[str, dict[int, Pose]] = {}
    for pin, piece in piece_pins_that_hold([shape.piece for shape in shapes], choices):
        index = index_of[piece.number]
        pinned.setdefault(pin.trim, {})[index] = shapes[index].pose_of(pin.turn_deg, pin.x_mm, pin.y_mm)
    return PaperTask(
        paper,
        shapes,
        largest_trims(paper, choices),
        tuple(scrap for scrap in scraps if scrap.paper == paper.id),
        tuple(pin for pin in choices.trim_pins if pin.paper == paper.id),
        pinned,
        choices,
    )
