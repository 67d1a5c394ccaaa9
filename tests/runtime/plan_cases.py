"""Plans of designs by fixed rounds: run natively and in the browser's Python, which must agree."""

import json
from collections.abc import Mapping
from typing import Any

from peekpaper.desk.desk import Desk

ROUNDS = 4
SPREAD = 3


def asked(desk: Desk, call: str, buffers: tuple[bytes, ...] = (), /, **arguments: Any) -> Any:
    """Return what the desk answers in the end. Raises ValueError with the sentence of a refusal."""
    last = list(desk.steps(call, json.dumps(arguments), buffers))[-1]
    if last.kind != "result":
        raise ValueError(last.json)
    return json.loads(last.json)


def planned(project: dict[str, Any]) -> dict[str, Any]:
    """Return the backing's pieces and the plan of a project after a few rounds."""
    desk = Desk()
    project["plan"]["rounds"] = ROUNDS
    pieces = asked(desk, "backing", project=project)["pieces"]
    return {"pieces": pieces, "plan": asked(desk, "plan", project=project, seconds=0)}


def answers(designs: Mapping[str, str]) -> dict[str, Any]:
    """Return for the demo and for designs by name (SVG), papered by suggestion, what was planned."""
    desk = Desk()
    told = {"the demo": planned(asked(desk, "demo")["project"])}
    for name, svg in designs.items():
        project = asked(desk, "open", (svg.encode(),), name=name, file={"buffer": 0})["project"]
        project["reading"]["width_mm"] = 150.0
        given = asked(desk, "suggest", project=project, count=SPREAD, seed=1)["papers"]
        project["colourways"][0]["papers"] = given
        told[name] = planned(project)
    return told
