"""The speaker of a live session: muted it says nothing; while it speaks, listeners are shut.

The microphone's half is tested on a virtual card in tests/devices/test_live_path.py.
"""

from __future__ import annotations

import pytest
from kept_output import KeptOutput

from assistant.commands.live_devices import LiveSpeaker
from assistant.devices.clock import FakeClock
from assistant.devices.inbox import Inbox
from assistant.messages import Say

pytestmark = pytest.mark.real  # the devices have a clock of their own


class Shutter:
    def __init__(self) -> None:
        self.calls: list[bool] = []

    def speaking(self, on: bool) -> None:
        self.calls.append(on)


def test_muted_it_looks_for_no_loudspeaker_and_never_waits() -> None:
    clock, out, shutter = FakeClock(), KeptOutput(), Shutter()
    speaker = LiveSpeaker(out, clock, Inbox(clock), mute=True)
    speaker.mutes(shutter)  # type: ignore[arg-type]
    speaker.perform(0.0, Say("Good morning."))
    speaker.finish()
    speaker.close()
    assert out.told == []
    assert True not in shutter.calls
