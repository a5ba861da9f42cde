"""What is listened for."""

from __future__ import annotations

import pytest
from session_story import Story

from assistant.messages import (
    StepDone,
)


@pytest.mark.parametrize("words", ["oiled round", "oil is round"])
def test_work_done_early_is_reported_in_the_words_of_the_list(words: str) -> None:
    story = Story()
    story.say(words)
    assert [d.step for d in story.got(StepDone)] == ["oiled round"]
