"""What tests of several rooms share."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import settings

from assistant.errors import WorldFailedError
from assistant.lab import outside
from assistant.simulator import voices
from assistant.simulator.voices import SynthesiserVoice

# Files are read from a disk that others use too: no example of a property has a deadline.
settings.register_profile("no deadline", deadline=None)
settings.load_profile("no deadline")


@pytest.fixture
def voice() -> SynthesiserVoice:
    """The first of the practice operator's voices; skipped with a word where there is none."""
    try:
        return voices.available()[0]
    except WorldFailedError as missing:
        pytest.skip(str(missing))


@pytest.fixture(scope="session")
def recordings() -> Path:
    """The folder of human recordings, which are no part of the project."""
    folder = outside.speech_folder()
    if not (folder / "commands" / "labels.json").is_file():
        pytest.skip(f"no human recordings here: {outside.VARIABLE} names the folder they are in")
    return folder
