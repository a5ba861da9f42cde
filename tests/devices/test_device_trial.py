"""A device is tried in a process of its own, which may fail, hang or not even start."""

from __future__ import annotations

import sys

import pytest

from assistant.devices import device_trial
from assistant.devices.device_trial import passes


def program(code: str) -> tuple[str, ...]:
    return (sys.executable, "-c", code)


def test_a_trial_is_given_what_to_try_and_its_exit_code_counts() -> None:
    named = program("import sys; sys.exit(sys.argv[1:] != ['plays', 'USB Headset'])")
    assert passes("plays", "USB Headset", named)
    assert not passes("plays", "Another", named)
    assert not passes("microphone", "USB Headset", named)
    assert passes("speaker", None, program("import sys; sys.exit(sys.argv[1:] != ['speaker'])"))


def test_a_trial_that_cannot_be_made_has_failed() -> None:
    assert not passes("plays", None, ("/no/such/program",))


def test_a_trial_that_hangs_has_failed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(device_trial, "TRIAL_S", 0.1)
    assert not passes("plays", None, program("import threading; threading.Event().wait(60)"))
