"""Pairs of indices have names of their own, also where a machine's own integers have 32 bits."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from peekpaper.geometry.pairs import pair_names, pairs_named, side_names

MOST = 2**31 - 1
INDICES = st.integers(0, MOST - 1)


@given(st.lists(st.tuples(INDICES, INDICES), min_size=1, max_size=20, unique=True))
def test_pairs_of_narrow_integers_come_back_from_their_names_in_order(pairs: list[tuple[int, int]]) -> None:
    narrow = np.array(sorted(pairs), np.int32)
    names = pair_names(narrow[:, 0], narrow[:, 1], MOST)
    assert (np.diff(names) > 0).all()
    assert (pairs_named(names, MOST) == narrow).all()
    assert (side_names(narrow, MOST) == side_names(narrow[:, ::-1], MOST)).all()
