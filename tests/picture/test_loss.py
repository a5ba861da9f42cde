"""A fall of the glass that no use of steam can be, shown by two looks."""

from __future__ import annotations

from dataclasses import replace

import pytest
from picture_story import PRACTICE, glass, log_of, picture, psi

from assistant.messages import Report
from assistant.picture.loss import most_used

STEADY = (0.0, psi(100)), (0.0, glass(0.75))
LEAKS = (4.0, glass(0.55)), (6.0, glass(0.5))


def test_two_looks_lower_and_lower_show_it() -> None:
    assert picture(*STEADY, LEAKS[0]).loss is None, "one look may be misread"
    loss = picture(*STEADY, *LEAKS).loss
    assert loss is not None
    assert (loss.since, loss.before, loss.level) == (240.0, 0.75, 0.5)
    assert 0.0 < loss.most_used < 0.1


@pytest.mark.parametrize(
    "told",
    [
        (1.0, Report("feed", "on")),
        (1.0, Report("bypass", "shut")),
        (3.9, psi(80)),
        (0.1, Report("valve", "lifting")),
        (0.1, Report("regulator", "open")),
        (1.0, Report("cure", "priming")),
    ],
)
def test_feed_cooling_a_valve_that_blows_and_priming_explain_it(
    told: tuple[float, Report],
) -> None:
    assert picture(*STEADY, told, *LEAKS).loss is None


def test_one_level_that_was_misread_is_no_loss() -> None:
    misread = (4.0, glass(1.0))
    after = (8.0, glass(0.75)), (12.0, glass(0.75)), (13.0, glass(0.75))
    assert picture(*STEADY, misread, *after).loss is None
    low = (4.0, glass(0.5))
    assert picture(*STEADY, low, *after).loss is None


def test_a_level_that_two_earlier_ones_contradict_is_a_loss_though_it_falls_no_more() -> None:
    twice = *STEADY, (1.0, glass(0.75))
    assert picture(*twice, (5.0, glass(0.5)), (6.0, glass(0.5))).loss is not None


def test_two_falls_running_show_it_with_the_second() -> None:
    falls = (2.0, glass(0.625)), (4.0, glass(0.375))
    loss = picture(*STEADY, *falls).loss
    assert loss is not None
    assert (loss.since, loss.before, loss.level) == (240.0, 0.75, 0.375)
    assert picture(*STEADY, falls[1]).loss is None, "one look may be misread"
    assert picture(*STEADY, (2.0, glass(0.625)), (4.0, glass(0.5))).loss is None, "calls round"


def test_over_a_time_without_reports_the_valve_may_have_blown_untold() -> None:
    late = (15.0, glass(0.5)), (16.0, glass(0.45))
    assert picture(*STEADY, *late).loss is None
    assert picture(*STEADY, (7.0, psi(100)), *late).loss is not None


def test_without_a_rate_of_the_fire_nothing_is_claimed() -> None:
    assert picture(*STEADY, *LEAKS, engine=replace(PRACTICE, fire_rate_w=None)).loss is None


def test_steam_is_counted_for_as_long_as_it_was_told_to_leave() -> None:
    log = log_of((0.0, Report("valve", "lifting")), (1.0, Report("valve", "shut")))
    shut, blew = (most_used(log, PRACTICE, at, at + 600.0) for at in (60.0, 0.0))
    assert 0.0 < shut < blew < shut + 0.1
