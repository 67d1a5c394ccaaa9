"""Ink of the designs of a folder that their reading loses without a word, as another renderer paints it.

    python tests/bench/scan_ink.py FOLDER [percent]

Prints a line for each file that loses more than so many percent (default 1) of its ink or of its edges: both
shares, the reading and the number of openings. Ends with 1 where there is any.
"""

import sys
from pathlib import Path

from peekpaper.design.design import Limits, Reading
from peekpaper.design.make import make_design
from peekpaper.design.size import first_tolerance
from peekpaper.drawing.read import read_drawing
from peekpaper.refusal import Refusal

sys.path.insert(0, str(Path(__file__).parents[1] / "design"))

from ink_told import without_a_word


def main(folder: Path, most: float) -> int:
    losing = 0
    for path in sorted(folder.glob("*.svg*")):
        svg = path.read_bytes()
        try:
            drawing = read_drawing(svg, first_tolerance)
            design = make_design(drawing, Reading(), Limits())
        except Refusal:
            continue
        lost = without_a_word(svg, drawing, design)
        if max(lost.ink, lost.edges) > most:
            losing += 1
            told = f"{lost.ink:.1%} of the ink, {lost.edges:.1%} of the edges"
            print(f"{path.name}\t{told}\t{design.habits[0]}\t{len(design.openings)} openings", flush=True)
    return int(losing > 0)


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), float(sys.argv[2]) / 100 if len(sys.argv) > 2 else 0.01))
