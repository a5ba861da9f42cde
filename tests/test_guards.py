"""What a test may not do unless it is marked `real` is refused to the program and to its tests."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from guards import NotMarkedReal

from assistant.config import paths
from assistant.devices.clock import RealClock


@pytest.mark.parametrize(
    "reads",
    [
        lambda: time.time(),
        lambda: time.monotonic(),
        lambda: time.perf_counter(),
        lambda: time.strftime("%Y"),
        lambda: time.sleep(0.0),
    ],
)
def test_the_clock_is_refused(reads: Callable[[], object]) -> None:
    with pytest.raises(NotMarkedReal):
        reads()


def test_the_programs_own_clock_is_refused() -> None:
    with pytest.raises(NotMarkedReal, match=r"assistant\.devices\.clock calls time\.clock_gettime"):
        RealClock().now()


def test_a_given_time_may_be_written() -> None:
    assert time.strftime("%Y", time.gmtime(0)) == "1970"


def test_the_sound_library_is_refused() -> None:
    import sounddevice

    with pytest.raises(NotMarkedReal, match=r"sounddevice\.query_devices"):
        sounddevice.query_devices()
    assert "sounddevice" in sys.modules


def test_the_home_folder_is_not_the_users() -> None:
    assert not paths.home_folder().exists()
    assert not paths.home_folder().is_relative_to(Path.home() / ".local")


@pytest.mark.real
def test_a_test_that_says_so_may() -> None:
    assert time.monotonic() <= time.monotonic()
