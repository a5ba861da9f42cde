"""Sound libraries are kept off the screen; nothing else is."""

from __future__ import annotations

import os

import pytest

from assistant.devices.quiet import quiet


def test_only_the_chatter_of_sound_libraries_is_kept_away(
    capfd: pytest.CaptureFixture[str],
) -> None:
    with quiet():
        os.write(2, b"ALSA lib pcm_pulse.c:758:(pulse_prepare) PulseAudio: Unable\n\n")
        os.write(2, b"Expression 'r' failed in 'src/hostapi/alsa/pa_linux_alsa.c', line: 2097\n")
        os.write(2, b"something a person should see\n")
        os.write(2, b"jack server is not running or cannot be started\n")
    os.write(2, b"after\n")
    assert capfd.readouterr().err == "something a person should see\nafter\n"


def test_an_error_inside_still_gives_the_screen_back(capfd: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(OSError, match="no card"), quiet():
        raise OSError("no card")
    os.write(2, b"still here\n")
    assert capfd.readouterr().err == "still here\n"
