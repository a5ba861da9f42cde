"""What tests of several rooms share."""

from __future__ import annotations

import pytest

from assistant.errors import WorldFailedError
from assistant.rehearsal import voices
from assistant.rehearsal.voices import Voice


@pytest.fixture
def voice() -> Voice:
    """The first of the practice operator's voices; skipped with a word where there is none."""
    try:
        return voices.available()[0]
    except WorldFailedError as missing:
        pytest.skip(str(missing))
