"""A recording of so many seconds, and a microphone that gives nothing."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.devices import recorder
from assistant.devices.microphone import FakeSource, OnBlock
from assistant.devices.recorder import record
from assistant.errors import WorldFailedError


class Humming(FakeSource):
    """Gives a second of sound as soon as it is opened."""

    def open(self, on_block: OnBlock) -> int:
        rate_hz = super().open(on_block)
        self.speak(np.full(rate_hz, 0.25, np.float32))
        return rate_hz

    def close(self) -> None:
        super().close()
        self.closed = True


def test_a_recording_has_the_length_asked_for_and_tells_how_far_it_is() -> None:
    source = Humming(48_000)
    done_s: list[float] = []
    clip = record(source, 0.5, done_s.append)
    assert (clip.rate_hz, clip.duration_s) == (48_000, 0.5)
    assert clip.samples == pytest.approx(0.25)
    assert done_s == sorted(done_s)
    assert done_s[-1] >= 0.5 > done_s[-2]
    assert source.closed


def test_a_microphone_that_gives_nothing_is_one_clear_line(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(recorder, "FIRST_BLOCK_S", 0.01)
    with pytest.raises(WorldFailedError, match="no sound comes from the microphone"):
        record(FakeSource(), 1.0)
