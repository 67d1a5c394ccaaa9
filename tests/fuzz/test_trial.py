"""What the fuzz tests rest on can fail: bounds that stop, finds that are told, inputs made small."""

import itertools

import pytest
from bounds import bounded
from shrinking import shrunk
from trial import Trial


def test_an_input_without_end_is_stopped() -> None:
    with pytest.raises(TimeoutError), bounded(seconds=0.1):
        all(True for _ in itertools.count())


def test_an_input_that_takes_too_much_memory_is_stopped() -> None:
    with pytest.raises(MemoryError), bounded(memory_bytes=100_000_000):
        bytearray(200_000_000)
    assert len(bytearray(200_000_000)) == 200_000_000


def test_an_input_that_fails_is_made_small() -> None:
    assert shrunk("one two three, four five", lambda text: "," in text) == ","
    assert shrunk(["plan", "--lip", "x", "--gap"], lambda words: "--lip" in words) == ["--lip"]


def test_all_inputs_are_tried_and_each_way_to_fail_is_told_once() -> None:
    trial = Trial()

    def has_result(text: str) -> bool:
        if "!" in text:
            raise KeyError(text)
        return text.islower()

    with pytest.raises(AssertionError, match="KeyError at test_trial") as told:
        trial.of(["a", "B", "much!", "more!", "c"], has_result)
    assert (trial.results, trial.refusals) == (2, 1)
    assert str(told.value).count("KeyError at") == 1
    assert "'!'" in str(told.value)
