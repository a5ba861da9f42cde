"""Single digits joined to numbers."""

from __future__ import annotations

import numpy as np
from small_corpus import TONE_DIGITS

from assistant.lab.tuning.digit_joining import drawn_digits, joined_digits
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
