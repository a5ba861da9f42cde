"""`footplate devices`: the list, and a microphone that is or is not fit for readings."""

from __future__ import annotations

import argparse
from collections.abc import Callable

import pytest
from kept_output import KeptOutput

from assistant.commands import devices
from assistant.devices.device_list import Device
from assistant.errors import InputWrongError

HEADSET = Device(3, "Headset", "ALSA", 1, 2, 48_000, True)
SPEAKER = Device(4, "Loudspeaker", "ALSA", 0, 2, 44_100, False)


class Card:
    listed: tuple[Device, ...] = ()

    def devices(self) -> tuple[Device, ...]:
        return self.listed


@pytest.fixture
def listed(monkeypatch: pytest.MonkeyPatch) -> Callable[..., KeptOutput]:
    def run(*found: Device) -> KeptOutput:
        Card.listed = found
        monkeypatch.setattr(devices, "SoundCard", Card)
        parser = argparse.ArgumentParser()
        devices.add(parser)
        out = KeptOutput(json=True)
        assert devices.run(parser.parse_args([]), out) == 0
        return out

    return run


def test_each_device_with_its_uses_the_default_marked(listed: Callable[..., KeptOutput]) -> None:
    out = listed(HEADSET, SPEAKER)
    assert out.lines == [
        "*  3  Headset  (microphone, speaker; 48000 Hz; ALSA)",
        "   4  Loudspeaker  (speaker; 44100 Hz; ALSA)",
    ]
    assert [(r["index"], r["microphone"], r["speaker"]) for r in out.records] == [
        (3, True, True), (4, False, True),
    ]  # fmt: skip


def test_without_any_it_says_what_still_works(listed: Callable[..., KeptOutput]) -> None:
    assert listed().lines == ["no sound devices: practice and typed lines work without"]


@pytest.mark.parametrize("text", ["4", "601", "nan", "long"])
def test_a_length_of_recording_out_of_range_is_refused(text: str) -> None:
    parser = argparse.ArgumentParser(exit_on_error=False)
    devices.add(parser)
    with pytest.raises((argparse.ArgumentError, InputWrongError), match="5 to 600 seconds"):
        parser.parse_args(["--record-noise", text])
