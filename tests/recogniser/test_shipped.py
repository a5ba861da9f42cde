"""Weights are those that the program was measured with, or refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.errors import WorldFailedError
from assistant.recogniser import shipped
from assistant.recogniser.whisper_weights import bundled_model


def test_what_ships_and_what_the_package_brings_are_those() -> None:
    assert shipped.proved(shipped.DETECTOR) == shipped.DETECTOR
    assert shipped.proved(bundled_model() / "model.bin").name == "model.bin"
    assert shipped.TUNED.is_file()


def test_another_file_of_the_name_is_refused(tmp_path: Path) -> None:
    other = tmp_path / shipped.DETECTOR.name
    other.write_bytes(shipped.DETECTOR.read_bytes()[:-1] + b"x")
    with pytest.raises(WorldFailedError, match="not the file"):
        shipped.proved(other)
    with pytest.raises(WorldFailedError, match="No such file"):
        shipped.proved(tmp_path / "gone" / shipped.DETECTOR.name)
