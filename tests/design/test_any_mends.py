"""Whatever mends a document holds, the card comes out whole, or a sentence says why not."""

from hypothesis import example, given, settings
from hypothesis import strategies as st
from made_projects import some
from panels import drawing_of, random_panel

from peekpaper.design.design import Limits, Reading
from peekpaper.design.make import make_design
from peekpaper.design.mending import mends as kinds
from peekpaper.design.mending.mends import (
    AddBar,
    AddCard,
    AddFrame,
    CutOpening,
    DivideCard,
    DropSpecks,
    FillOpening,
    FillSmall,
    FrameShape,
    LeaveAsIs,
    Mend,
    RubOut,
    SettleBit,
    Smooth,
    Thicken,
)
from peekpaper.refusal import Refusal

FINEST = 1e-8
"""Of a card's size: a millionth of a millimetre at 100 mm."""

near = st.floats(-20, 250) | st.sampled_from([0.0, 50.0, 100.0])
places = st.tuples(near, near)
lines = st.lists(places, min_size=2, max_size=5).map(tuple)
outlines = st.lists(places, min_size=3, max_size=7).map(tuple)
lengths = st.floats(0.01, 60) | st.sampled_from([1e-6, 1e4])
changes = st.one_of(
    some(AddBar, line=lines, width=lengths),
    some(Thicken, line=lines, width=lengths),
    some(
        AddCard,
        outlines=st.lists(outlines, min_size=1, max_size=2).map(tuple),
        turns=st.lists(st.tuples(*[st.floats(-2, 2)] * 6), max_size=2).map(tuple),
    ),
    some(RubOut, line=lines, radius=lengths),
    some(CutOpening, outline=outlines),
    some(FillOpening, at=places),
    some(SettleBit, at=places),
    some(LeaveAsIs, outlines=st.lists(outlines, max_size=2).map(tuple)),
    some(AddFrame, width=lengths, margin=st.floats(-40, 40), corner=st.floats(0, 80), hole=st.floats(0, 40)),
    some(Smooth, tolerance=lengths),
    some(DropSpecks, area=st.floats(0, 1e5)),
    some(FillSmall, area=st.floats(0, 1e5)),
    st.just(DivideCard()),
)


RUB_ALL_OUT = RubOut(((0.0, 0.0), (0.0, 0.0)), 10000.0)


@example(0, [RUB_ALL_OUT, AddFrame(FrameShape.RECTANGLE, 50.0, 0.0, 3.0, 30.0)])
@example(0, [RUB_ALL_OUT, DropSpecks(1000.0)])
@example(0, [RUB_ALL_OUT, SettleBit((0.0, 0.0), kinds.Fate.GLUE)])
@example(0, [RUB_ALL_OUT, Smooth(1.0)])
@example(0, [RUB_ALL_OUT, AddCard((((0.0, 0.0), (90.0, 0.0), (0.0, 90.0)),))])
@example(0, [AddFrame(FrameShape.RECTANGLE, 1e-6, 0.0, 3.0, 4.0)])
@example(0, [AddFrame(FrameShape.RECTANGLE, 1.0, -200.0, 3.0, 4.0)])
@settings(max_examples=30, deadline=None)
@given(st.integers(0, 50), st.lists(changes, max_size=5))
def test_any_mends_leave_a_sound_card_or_are_refused(seed: int, made: list) -> None:
    drawing = drawing_of(random_panel(seed, rows=2, columns=2, cell=20).card)
    mends = tuple(Mend(f"m{number}", change) for number, change in enumerate(made))
    try:
        design = make_design(drawing, Reading(), Limits(), mends)
    except Refusal:
        return
    assert design.card.is_valid
    left, top, right, bottom = design.card.bounds
    # Cards of metres, which only made-up mends give, are no finer than their figures are.
    assert max(abs(left), abs(top)) <= FINEST * max(right - left, bottom - top)
    assert set(design.lost_mends) <= {mend.id for mend in mends}
    again = make_design(drawing, Reading(), Limits(), mends)
    assert again.card.equals_exact(design.card)
