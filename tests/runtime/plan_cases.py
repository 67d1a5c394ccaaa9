"""Plans of designs by fixed rounds: run natively and in the browser's Python, which must agree."""

import json
from collections.abc import Mapping
from typing import Any

import shapely

from peekpaper.backing.backing import Piece
from peekpaper.desk.desk import Desk
from peekpaper.pipeline import Pipeline
from peekpaper.plan.plan import Plan, Trim
from peekpaper.project.document import from_json

ROUNDS = 4
SPREAD = 3


def asked(desk: Desk, call: str, buffers: tuple[bytes, ...] = (), /, **arguments: Any) -> Any:
    """Return what the desk answers in the end. Raises ValueError with the sentence of a refusal."""
    last = list(desk.steps(call, json.dumps(arguments), buffers))[-1]
    if last.kind != "result":
        raise ValueError(last.json)
    return json.loads(last.json)


def answers(designs: Mapping[str, str]) -> dict[str, Any]:
    """Return for the demo and for designs by name (SVG), papered by suggestion, what was planned."""
    desk = Desk()
    told = {"the demo": planned(asked(desk, "demo")["project"], ROUNDS)}
    for name, svg in designs.items():
        project = asked(desk, "open", (svg.encode(),), name=name, file={"buffer": 0})["project"]
        project["reading"]["width_mm"] = 150.0
        given = asked(desk, "suggest", project=project, wish={"count": SPREAD, "seed": 1})["papers"]
        project["colourways"][0]["papers"] = given
        told[name] = planned(project, ROUNDS)
    return told


def planned(document: dict[str, Any], rounds: int) -> dict[str, Any]:
    """Return backing pieces and plan of a project after so many rounds of each paper, nothing rounded."""
    document["plan"]["rounds"] = [
        {"paper": paper["id"], "rounds": rounds} for paper in document["shelf"]["papers"]
    ]
    project, pipeline = from_json(json.dumps(document)), Pipeline()
    *_, plan = pipeline.plans(project, 0)
    return {"pieces": [_piece(piece) for piece in pipeline.backing(project).pieces], **_plan(plan)}


def _piece(piece: Piece) -> dict[str, Any]:
    whose = {"number": piece.number, "openings": list(piece.openings), "paper": piece.paper}
    return {**whose, "lip_mm": piece.lip_min_mm, "nodes": _nodes(piece.outline)}


def _plan(plan: Plan) -> dict[str, Any]:
    return {"complete": plan.complete, "mats": len(plan.mats), "trims": [_trim(trim) for trim in plan.trims]}


def _trim(trim: Trim) -> dict[str, Any]:
    return {
        "id": trim.id,
        "mat": trim.mat,
        "turned": trim.turned,
        "box": [trim.width_mm, trim.height_mm, trim.x_mm, trim.y_mm],
        "pieces": [[piece.number, _nodes(piece.outline)] for piece in trim.pieces],
    }


def _nodes(outline: shapely.Polygon) -> list[list[float]]:
    nodes: list[list[float]] = shapely.get_coordinates(outline).tolist()
    return nodes
