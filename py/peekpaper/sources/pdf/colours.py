"""Colours of PDF content as `#rrggbb` (ISO 32000-1, 8.6)."""

from collections.abc import Sequence
from typing import Any

BLACK = "#000000"
PLAIN_INK = "#808080"
"""What patterns and shadings are painted with: where they are is what counts."""
_DEVICE = {1: "/DeviceGray", 3: "/DeviceRGB", 4: "/DeviceCMYK"}
_SHORT = {"/G": "/DeviceGray", "/RGB": "/DeviceRGB", "/CMYK": "/DeviceCMYK", "/I": "/Indexed"}
_FILL_OF = {b"g": "/DeviceGray", b"rg": "/DeviceRGB", b"k": "/DeviceCMYK"}
_STROKE_OF = {b"G": "/DeviceGray", b"RG": "/DeviceRGB", b"K": "/DeviceCMYK"}
_FIRST = {"/DeviceCMYK": (0.0, 0.0, 0.0, 1.0), "/Separation": (1.0,)}
_MOST_NESTED = 4
_CHANNELS = {"/DeviceGray": 1, "/CalGray": 1, "/DeviceCMYK": 4}


class Colours:
    """Resolves colours by the colour spaces that a page's or a form's resources name."""

    def __init__(self, resources: Any) -> None:
        self._resources = resources

    def set_by(self, operator: bytes, operands: Sequence[Any], state: Any) -> dict[str, Any] | None:
        """Return what changes in the graphics state by an operator on colours, None for any other."""
        if operator in _FILL_OF:
            return {"fill_space": _FILL_OF[operator], "fill": self._colour(_FILL_OF[operator], operands)}
        if operator in _STROKE_OF:
            return {
                "stroke_space": _STROKE_OF[operator],
                "stroke": self._colour(_STROKE_OF[operator], operands),
            }
        if operator in {b"cs", b"CS"}:
            space = self._space(operands[0])
            name = "fill" if operator == b"cs" else "stroke"
            return {f"{name}_space": space, name: self._first(space)}
        if operator in {b"sc", b"scn"}:
            return {"fill": self._colour(state.fill_space, operands)}
        if operator in {b"SC", b"SCN"}:
            return {"stroke": self._colour(state.stroke_space, operands)}
        return None

    def _space(self, name: Any) -> Any:
        spaces = _object(self._resources.get("/ColorSpace", {}))
        return _object(spaces[name]) if name in spaces else _SHORT.get(name, name)

    def _first(self, space: Any) -> str:
        return self._colour(space, _FIRST.get(_kind(space), (0.0, 0.0, 0.0)))

    def _colour(self, space: Any, values: Sequence[Any], nested: int = 0) -> str:
        kind = _kind(space)
        if kind == "/Pattern" or any(isinstance(value, str) for value in values):
            return PLAIN_INK
        numbers = [float(value) for value in values]
        return _DIRECT[kind](numbers) if kind in _DIRECT else self._derived(kind, space, numbers, nested)

    def _derived(self, kind: str, space: Any, values: Sequence[float], nested: int) -> str:
        """Return a colour of a space that is told by another; plain ink for one that is not known."""
        if nested >= _MOST_NESTED:
            return PLAIN_INK
        if kind == "/ICCBased":
            return self._colour(_DEVICE[int(_object(space[1])["/N"])], values, nested + 1)
        if kind in {"/Separation", "/DeviceN"}:
            return self._colour(_object(space[2]), _tint(_object(space[3]), values), nested + 1)
        return self._indexed(space, int(values[0]), nested) if kind == "/Indexed" else PLAIN_INK

    def _indexed(self, space: Any, index: int, nested: int) -> str:
        base, table = _object(space[1]), _object(space[3])
        data = table.get_data() if hasattr(table, "get_data") else getattr(table, "original_bytes", table)
        kind = _kind(base)
        count = int(_object(base[1])["/N"]) if kind == "/ICCBased" else _CHANNELS.get(kind, 3)
        return self._colour(
            base, [byte / 255 for byte in data[index * count : (index + 1) * count]], nested + 1
        )


def _tint(function: Any, values: Sequence[float]) -> Sequence[float]:
    """Return a tint's colour by an exponential or a sampled function's ends; grey by the tint for others."""
    tint = values[0] if len(values) == 1 else max(values, default=0.0)
    kind = int(function.get("/FunctionType", -1))
    if kind == 2:
        first = [float(one) for one in function.get("/C0", (0.0,))]
        last = [float(one) for one in function.get("/C1", (1.0,))]
        share = tint ** float(function.get("/N", 1.0))
        return [a + share * (b - a) for a, b in zip(first, last, strict=True)]
    outputs = len(function.get("/Range", (0, 1) * 3)) // 2
    if kind == 0:
        data = function.get_data()
        size = int(function["/Size"][0])
        at = round(min(1.0, max(0.0, tint)) * (size - 1)) * outputs
        if int(function.get("/BitsPerSample", 8)) == 8 and len(values) == 1:
            return [byte / 255 for byte in data[at : at + outputs]]
    return (0.0, 0.0, 0.0, tint) if outputs == 4 else (1 - tint,) * outputs


def _object(value: Any) -> Any:
    return value.get_object() if hasattr(value, "get_object") else value


def _kind(space: Any) -> str:
    space = _object(space)
    return str(space if isinstance(space, str) else _object(space[0]))


def _hex(*channels: float) -> str:
    return "#" + "".join(f"{round(255 * min(1.0, max(0.0, one))):02x}" for one in channels)


def _grey(values: Sequence[float]) -> str:
    return _hex(values[0], values[0], values[0])


def _rgb(values: Sequence[float]) -> str:
    return _hex(*values[:3])


def _cmyk(values: Sequence[float]) -> str:
    cyan, magenta, yellow, black = values[:4]
    return _hex(*((1 - one) * (1 - black) for one in (cyan, magenta, yellow)))


def _lightness(values: Sequence[float]) -> str:
    return _grey([values[0] / 100])


_DIRECT = {
    "/DeviceGray": _grey, "/CalGray": _grey, "/DeviceRGB": _rgb, "/CalRGB": _rgb, "/DeviceCMYK": _cmyk,
    "/Lab": _lightness,
}  # fmt: skip
