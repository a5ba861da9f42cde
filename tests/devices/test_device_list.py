"""Which device a name means, and one clear line when it means none or two."""

from __future__ import annotations

import pytest

from assistant.devices.device_list import Device, choose
from assistant.errors import InputWrongError, WorldFailedError


def device(
    index: int, name: str, inputs: int = 1, outputs: int = 0, default: bool = False
) -> Device:
    return Device(index, name, "ALSA", inputs, outputs, 48_000, default)


CARD = (
    device(0, "Built-in Audio", 2, 2),
    device(1, "USB Headset: Mono (hw:1,0)", 1, 2),
    device(2, "USB Headset: Mono (hw:2,0)", 1, 2),
    device(3, "Blue Snowball", 1, 0, default=True),
    device(4, "Loudspeaker", 0, 2, default=True),
)


def test_no_name_means_the_default_one() -> None:
    assert choose(None, CARD, "microphone").name == "Blue Snowball"
    assert choose(None, CARD, "speaker").name == "Loudspeaker"


def test_without_a_default_the_first_that_fits() -> None:
    assert choose(None, CARD[:2], "speaker").index == 0


@pytest.mark.parametrize("name", ["Blue Snowball", "blue", "3"])
def test_whole_name_part_of_it_or_number(name: str) -> None:
    assert choose(name, CARD, "microphone").index == 3


def test_two_of_one_name_are_told_with_how_to_choose() -> None:
    twins = (device(0, "USB Headset"), device(1, "USB Headset"))
    with pytest.raises(InputWrongError) as error:
        choose("USB Headset", twins, "microphone")
    assert "2 microphones" in str(error.value)
    assert "by its number: 0: USB Headset (ALSA), 1: USB Headset (ALSA)" in str(error.value)
    assert choose("1", twins, "microphone").index == 1


def test_a_whole_name_wins_over_a_part_of_another() -> None:
    both = (device(0, "Mic"), device(1, "Mic Array"))
    assert choose("Mic", both, "microphone").index == 0


@pytest.mark.parametrize(
    ("name", "word"),
    [("Blue Snowbull", "did you mean 'Blue Snowball'"), ("x9", "there are"), ("77", "there are")],
)
def test_an_unknown_name_is_told_with_what_there_is(name: str, word: str) -> None:
    with pytest.raises(InputWrongError, match=word) as error:
        choose(name, CARD, "microphone")
    assert "\n" not in str(error.value)


def test_a_speaker_is_not_a_microphone() -> None:
    with pytest.raises(InputWrongError):
        choose("Loudspeaker", CARD, "microphone")
    with pytest.raises(WorldFailedError, match="no microphone"):
        choose(None, CARD[4:], "microphone")
