"""Single digits joined to numbers."""

from __future__ import annotations

import numpy as np
from small_corpus import TONE_DIGITS

from assistant.lab.tuning.digit_joining import drawn_digits, joined_digits, joined_words
from assistant.messages import SPEECH_RATE_HZ


def test_joined_digits_are_in_order_and_may_begin_faintly() -> None:
    rng = np.random.default_rng(0)
    faint = 0
    for _ in range(60):
        sound = joined_digits(TONE_DIGITS, (1, 9), rng)
        assert 1.1 < len(sound) / SPEECH_RATE_HZ < 2.3
        half = len(sound) // 2
        first, second = np.abs(sound[:half]).max(), np.abs(sound[half:]).max()
        faint += first < second / 2
    assert 3 <= faint <= 30
    many = [drawn_digits(rng) for _ in range(200)]
    assert {len(digits) for digits in many} == {1, 2, 3}
    assert not any(len(digits) > 1 and digits[0] == 0 for digits in many)


def test_joined_words_run_into_each_other_or_lie_apart() -> None:
    takes = {"one": [np.full(4800, 0.2, np.float32)], "fifteen": [np.full(6400, 0.2, np.float32)]}
    rng = np.random.default_rng(1)
    spoken = [
        np.flatnonzero(np.abs(joined_words(takes, ("one", "fifteen"), rng)) > 1e-4)
        for _ in range(80)
    ]
    lengths = [(each[-1] - each[0]) / SPEECH_RATE_HZ for each in spoken]
    assert min(lengths) < 0.68 and 0.75 < max(lengths) < 0.9, "0.7 s without a pause or overlap"
