"""What a test may not do unless it is marked `real`: clock, sleep, sound card, home folder."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

CLOCKS = (
    "time", "time_ns", "monotonic", "monotonic_ns", "perf_counter", "perf_counter_ns",
    "process_time", "clock_gettime", "strftime", "localtime", "gmtime",
)  # fmt: skip


class NotMarkedReal(BaseException):
    """Not an Exception: nothing that handles errors may swallow it."""


def barred(name: str, real: Callable[..., Any], tests: str) -> Callable[..., Any]:
    """`real`, but refused to the program and to its tests; libraries and pytest go on using it."""

    def guarded(*args: Any, **kwargs: Any) -> Any:
        caller = sys._getframe(1)
        module, file = caller.f_globals.get("__name__", ""), caller.f_code.co_filename
        if module.partition(".")[0] == "assistant" or file.startswith(tests):
            formats_a_given_time = name in ("strftime", "localtime", "gmtime") and (
                len(args) > (name == "strftime")
            )
            if not formats_a_given_time:
                raise NotMarkedReal(f"{module or file} calls time.{name}")
        return real(*args, **kwargs)

    return guarded


class NoSoundCard(ModuleType):
    """In the place of the sound library."""

    def __getattr__(self, name: str) -> Any:
        if name.startswith("__"):  # asked by whoever looks through all modules
            raise AttributeError(name)
        raise NotMarkedReal(f"the sound library is used (sounddevice.{name})")


def guard(monkeypatch: pytest.MonkeyPatch, home: Path, tests: Path) -> None:
    """Bar all of it for one test. home: a folder that is not there, in the place of the user's."""
    for name in (*CLOCKS, "sleep"):
        monkeypatch.setattr(time, name, barred(name, getattr(time, name), str(tests)))
    monkeypatch.setitem(sys.modules, "sounddevice", NoSoundCard("sounddevice"))
    for variable in ("FOOTPLATE_HOME", "XDG_DATA_HOME", "XDG_CACHE_HOME"):
        monkeypatch.setenv(variable, str(home))
