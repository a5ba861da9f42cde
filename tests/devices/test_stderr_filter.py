"""Sound libraries are kept off the screen; nothing else is."""

from __future__ import annotations

import os
import threading

import pytest

from assistant.devices.stderr_filter import filtered_stderr, filtered_stderr_throughout


def test_only_the_chatter_of_sound_libraries_is_kept_away(
    capfd: pytest.CaptureFixture[str],
) -> None:
    with filtered_stderr():
        os.write(2, b"ALSA lib pcm_pulse.c:758:(pulse_prepare) PulseAudio: Unable\n\n")
        os.write(2, b"Expression 'r' failed in 'src/hostapi/alsa/pa_linux_alsa.c', line: 2097\n")
        os.write(2, b"something a person should see\n")
        os.write(2, b"jack server is not running or cannot be started\n")
    os.write(2, b"after\n")
    assert capfd.readouterr().err == "something a person should see\nafter\n"


def test_an_error_inside_still_gives_the_screen_back(capfd: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(OSError, match="no card"), filtered_stderr():
        raise OSError("no card")
    os.write(2, b"still here\n")
    assert capfd.readouterr().err == "still here\n"


def test_a_session_keeps_out_what_other_threads_of_the_libraries_write(
    capfd: pytest.CaptureFixture[str],
) -> None:
    with filtered_stderr_throughout():
        writer = threading.Thread(target=os.write, args=(2, b"Expression 'r' failed in 'x'\n"))
        writer.start()
        writer.join()
        with filtered_stderr():
            os.write(2, b"ALSA lib x\nours\n")
        os.write(2, b"the last words, without an end")
    os.write(2, b"\nafter\n")
    assert capfd.readouterr().err == "ours\nthe last words, without an end\nafter\n"
