"""A link as a QR code (ISO/IEC 18004), where it fits one."""

from dataclasses import dataclass

import numpy as np

from peekpaper.geometry.outline import Flags
from peekpaper.refusal import Refusal

QUIET_MODULES = 4
"""The empty rim that the standard asks for, in modules."""


@dataclass(frozen=True, slots=True, eq=False)
class QrCode:
    """A code without its quiet zone: `dark` has one row and column for each module."""

    dark: Flags

    @property
    def size(self) -> int:
        """Modules along a side, the quiet zone included."""
        return len(self.dark) + 2 * QUIET_MODULES

    def runs(self) -> list[tuple[int, int, int]]:
        """Return the dark runs of each row as column, row and length, the quiet zone counted in."""
        padded = np.pad(self.dark, QUIET_MODULES).astype(np.int8)
        steps = np.diff(padded, axis=1, prepend=0, append=0)
        rows, starts = np.nonzero(steps == 1)
        ends = np.nonzero(steps == -1)[1]
        return [(int(x), int(y), int(end - x)) for y, x, end in zip(rows, starts, ends, strict=True)]

    def path(self) -> str:
        """Return the dark modules as an SVG path in modules, the quiet zone included."""
        return "".join(f"M{x} {y}h{length}v1h-{length}z" for x, y, length in self.runs())


def qr_code(text: str) -> QrCode:
    """Return the code of a link. Raises Refusal where it is too long for one (2,953 bytes)."""
    # Only needed once a code is asked for.
    import segno

    try:
        code = segno.make(text, micro=False)
    except segno.DataOverflowError:
        raise Refusal("link-too-long-for-code") from None
    return QrCode(np.array([list(row) for row in code.matrix], dtype=np.bool_))
