"""An engine in steam, and a cold one, for the tests of the alarms."""

from __future__ import annotations

import pytest
from alarm_story import Story, a_bright_fire  # type: ignore[import-not-found]


@pytest.fixture
def steaming() -> Story:
    return a_bright_fire()


@pytest.fixture
def cold() -> Story:
    return Story()
