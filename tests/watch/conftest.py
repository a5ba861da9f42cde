"""Where the stories of the watch begin."""

from __future__ import annotations

from dataclasses import replace

import pytest
from watch_story import Story  # type: ignore[import-not-found]


@pytest.fixture
def cold() -> Story:
    return Story()


@pytest.fixture
def steaming() -> Story:
    """Sixty pounds, a bright fire, water at 0.6, five minutes between readings."""
    story = Story(at=3600.0)
    story.see(phase="raising steam", steam_since=3600.0)
    for what, state in (("fire", "coal"), ("damper", "open"), ("blower", "half")):
        story.state(what, state)
    story.at += 600
    story.sight = replace(story.sight, steam_since=story.at)
    assert story.psi(60) == [] and story.water(0.6) == []
    return story
