"""A speaker that is not there: one clear error, and the devices are listed again."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.devices.device_list import Device
from assistant.devices.player import CardPlayer, FakePlayer, NoPlayer
from assistant.devices.sound import Clip
from assistant.devices.sound_card import SoundCard
from assistant.errors import InputWrongError, WorldFailedError

CLIP = Clip(np.zeros(160, np.float32), 16_000)


class Unplugged(SoundCard):
    """A card whose speaker has been pulled out."""

    def __init__(self) -> None:
        self.refreshed = 0

    def find(self, name: str | None, direction: str) -> Device:
        raise InputWrongError(f"there is no {direction} {name!r}")

    def refresh(self) -> bool:
        self.refreshed += 1
        return True


def test_a_speaker_that_is_gone_is_looked_for_again() -> None:
    card = Unplugged()
    player = CardPlayer(card, "USB Headset")
    for attempt in (1, 2):
        with pytest.raises(WorldFailedError, match="no speaker 'USB Headset'"):
            player.play(CLIP)
        assert card.refreshed == attempt


class Plugged(Unplugged):
    """A card whose speaker is found once the devices were listed again."""

    def find(self, name: str | None, direction: str) -> Device:
        if not self.refreshed:
            return super().find(name, direction)
        return Device(0, "USB Headset", "ALSA", 0, 1, 16_000, True)


def test_a_speaker_is_ready_when_its_trial_plays_and_this_process_finds_it_too() -> None:
    def named(how: str, name: str | None) -> bool:
        return (how, name) == ("plays", "USB Headset")

    assert CardPlayer(Plugged(), "USB Headset", named).ready()
    assert not CardPlayer(Unplugged(), "USB Headset", named).ready()
    assert not CardPlayer(Plugged(), "Another", named).ready()


def test_without_a_speaker_every_sound_fails_with_the_reason() -> None:
    with pytest.raises(WorldFailedError, match="muted"):
        NoPlayer("muted").play(CLIP)


def test_a_fake_sound_ends_as_the_test_says_and_only_once() -> None:
    player = FakePlayer(at_once=False)
    playing = player.play(CLIP)
    player.playing[0].end()
    playing.hush()
    assert playing.wait() == "said"
    hushed = player.play(CLIP)
    hushed.hush()
    assert hushed.wait() == "cut"
