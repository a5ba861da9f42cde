"""A microphone that dies: told within 2 s, taken up again when sound returns."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from assistant.devices.watchdog import MUTED, Watchdog

STEP_S = 0.032


class Story:
    """A watchdog asked every 0.2 s about blocks that come every 32 ms."""

    def __init__(self, probe: Callable[[], bool] = lambda: True) -> None:
        self.now_s = 0.0
        self.asked = 0
        self.told: list[tuple[float, str]] = []
        self.probe = probe
        self.dog = Watchdog(self._probe, 0.0)
        self._check_s = 0.0

    def _probe(self) -> bool:
        self.asked += 1
        return self.probe()

    def run(self, seconds: float, loudest: float | None) -> Story:
        """Let time pass with blocks this loud; None: no blocks."""
        end_s = self.now_s + seconds
        while self.now_s < end_s:
            self.now_s += STEP_S
            if loudest is not None:
                self.dog.block(self.now_s, loudest)
            if self.now_s >= self._check_s:
                self._check_s = self.now_s + 0.2
                change = self.dog.check(self.now_s)
                if change:
                    self.told.append((self.now_s, change))
        return self


def test_a_live_microphone_is_left_in_peace() -> None:
    assert Story().run(60, 0.01).told == []


def test_blocks_that_stop_are_told_within_two_seconds() -> None:
    story = Story().run(10, 0.01).run(3, None)
    ((at_s, change),) = story.told
    assert change == "lost"
    assert 10 < at_s <= 12
    assert story.dog.gone


@pytest.mark.parametrize("loudest", [0.01, 0.0])
def test_an_unplugged_source_is_told_within_two_seconds_whatever_still_comes(
    loudest: float,
) -> None:
    plugged = True
    story = Story(lambda: plugged).run(10, loudest)
    assert story.told == []
    plugged = False
    story.run(3, loudest)
    ((at_s, change),) = story.told
    assert change == "lost"
    assert at_s <= 12
    assert story.dog.gone


def test_a_server_that_is_busy_once_is_not_a_loss() -> None:
    answers = iter([True, False, True, True, False] + [True] * 100)
    assert Story(lambda: next(answers)).run(30, 0.01).told == []


def test_a_microphone_that_shuts_itself_between_words_is_not_called_lost() -> None:
    story = Story()
    for _ in range(10):
        story.run(5, 0.1).run(4, 0.0)
    assert story.told == []


def test_a_probe_is_not_made_more_often_than_needed() -> None:
    story = Story().run(60, 0.01)
    assert story.asked <= 100


def test_an_open_microphone_that_is_muted_is_told_and_comes_back_by_itself() -> None:
    story = Story().run(25, 0.01).run(20, 0.0)
    ((at_s, change),) = story.told
    assert change == "lost"
    assert at_s <= 27
    assert story.dog.reason == MUTED
    assert not story.dog.gone
    story.run(1, 0.01)
    assert [change for _, change in story.told] == ["lost", "back"]


def test_sound_of_the_old_opening_is_no_return_of_a_microphone_that_was_gone() -> None:
    """The server may have moved it to the echo of our own speaker."""
    plugged = True
    story = Story(lambda: plugged).run(10, 0.01)
    plugged = False
    story.run(3, 0.01)
    plugged = True
    story.run(5, 0.01)
    assert [change for _, change in story.told] == ["lost"]
    story.dog.opened(story.now_s)
    story.run(1, 0.01)
    assert [change for _, change in story.told] == ["lost", "back"]


@pytest.mark.parametrize("first", [0.01, 0.0])
def test_a_reopened_microphone_is_back_at_its_first_block(first: float) -> None:
    story = Story().run(10, 0.01).run(5, None)
    story.dog.opened(story.now_s)
    opened_s = story.now_s
    story.run(1, None)
    assert len(story.told) == 1
    story.run(1, first)
    assert story.told[-1][1] == "back"
    assert story.told[-1][0] - opened_s <= 1.5


def test_one_that_never_gives_a_block_is_told() -> None:
    story = Story().run(5, None)
    assert [change for _, change in story.told] == ["lost"]
