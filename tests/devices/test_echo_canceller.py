"""The assistant's own voice taken off what was recorded; somebody else stays."""

from __future__ import annotations

import numpy as np
import pytest
from made_rooms import MadeRoom

from assistant.devices.clock import FakeClock
from assistant.devices.echo_canceller import REACH_S, EchoReference, cancel_echo
from assistant.devices.sound import Clip
from assistant.messages import SPEECH_RATE_HZ


@pytest.fixture
def room() -> MadeRoom:
    return MadeRoom(11)


@pytest.mark.parametrize("late_s", [0.03, 0.2, 0.45, 0.8])
def test_most_of_the_own_voice_is_taken_off_however_late_it_comes(
    room: MadeRoom, late_s: float
) -> None:
    said = room.talk(2.5, 110)
    heard = room.echo(said, late_s) + room.hiss(len(said))
    played = np.concatenate([np.zeros(round(REACH_S * SPEECH_RATE_HZ), np.float32), said])
    residual = cancel_echo(heard, played)
    taken_off_db = 10 * np.log10(np.mean(heard**2) / np.mean(residual**2))
    assert taken_off_db >= 12


def test_somebody_else_stays(room: MadeRoom) -> None:
    said, other = room.talk(2.5, 110), room.talk(2.5, 190)
    played = np.concatenate([np.zeros(round(REACH_S * SPEECH_RATE_HZ), np.float32), said])
    residual = cancel_echo(room.echo(said, 0.2) + other + room.hiss(len(said)), played)
    assert np.corrcoef(residual, other)[0, 1] >= 0.9


def test_with_nothing_played_nothing_is_changed(room: MadeRoom) -> None:
    other = room.talk(2.0, 190)
    silence = np.zeros(len(other) + round(REACH_S * SPEECH_RATE_HZ), np.float32)
    assert cancel_echo(other, silence) is other


def test_what_was_played_is_known_by_the_clock_and_cut_by_a_hush() -> None:
    clock = FakeClock(10.0)
    reference = EchoReference(clock)
    reference.began(Clip(np.ones(16_000, np.float32), 16_000))
    clock.sleep(0.5)
    reference.ended()
    played = reference.played(9.75, 16_000)
    assert not played[:4_000].any()
    assert played[4_000:12_000].all()
    assert not played[12_000:].any()
