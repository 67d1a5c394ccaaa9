"""The parts of a card that is larger than the mat, as JSON."""

from typing import Any

from peekpaper.design.design import Design


def parts_json(design: Design) -> list[dict[str, Any]]:
    """Return each part with its area and its tab as WKT in design mm; empty where the card is whole."""
    if design.division is None:
        return []
    joint = str(design.division.joint)
    return [
        {"number": part.number, "wkt": part.area.wkt, "tab": part.tab.wkt, "joint": joint}
        for part in design.division.parts
    ]
