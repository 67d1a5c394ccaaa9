"""Icons that nobody here drew, against an independent renderer; `build.py bench reading` takes all."""

from icon_sets import all_icons
from renderer import AGREES, share_that_differs

from peekpaper.drawing.read import read_drawing

SAMPLE_STEP = 25
GOAL = 0.995


def test_icons_are_read_and_their_ink_is_what_the_renderer_paints() -> None:
    icons = all_icons()
    assert len(icons) > 5000
    sample = icons[::SAMPLE_STEP]
    differing = []
    for name, content in sample:
        assert read_drawing(content).notices == (), name
        if share_that_differs(content.decode(), width=240) > AGREES:
            differing.append(name)
    assert len(differing) <= (1 - GOAL) * len(sample), differing
