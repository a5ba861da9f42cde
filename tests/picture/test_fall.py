"""A pressure that falls, and what explains it; a valve that is silent over the lift."""

from __future__ import annotations

import pytest
from picture_story import picture, psi

from assistant.messages import Report
from assistant.picture.fall import Fall

LIT = (0.0, Report("fire", "built"))


def fall_after(*told: tuple[float, Report]) -> Fall:
    fall = picture(LIT, *told).fall
    assert fall is not None
    return fall


def test_a_pressure_that_holds_or_rises_is_no_fall() -> None:
    assert picture(LIT, (1, psi(60))).fall is None
    assert picture(LIT, (1, psi(60)), (5, psi(60))).fall is None
    assert picture(LIT, (1, psi(60)), (5, psi(65))).fall is None


def test_a_fall_that_nothing_explains() -> None:
    fall = fall_after((1, psi(60)), (6, psi(55)))
    assert (fall.clear, fall.because, fall.unexplained, fall.sudden) == (True, "", True, False)


def test_hunting_by_a_pound_is_not_clear() -> None:
    assert not fall_after((1, psi(60)), (6, psi(59))).clear


@pytest.mark.parametrize(
    ("what", "state", "because"),
    [
        ("fire", "drawn", "no fire in"),
        ("fire", "banked", "fire held back"),
        ("damper", "shut", "fire held back"),
        ("regulator", "open", "steam goes out"),
        ("fire", "coal", "fresh coal"),
        ("feed", "on", "fed"),
        ("feed", "off", "fed"),
    ],
)
def test_what_explains_it(what: str, state: str, because: str) -> None:
    fall = fall_after((1, psi(60)), (3, Report(what, state)), (6, psi(55)))
    assert (fall.because, fall.unexplained) == (because, False)


@pytest.mark.parametrize(("what", "state"), [("fire", "coal"), ("feed", "off"), ("fire", "bright")])
def test_coal_and_feed_explain_it_for_some_minutes_only(what: str, state: str) -> None:
    fall = fall_after((1, Report(what, state)), (8, psi(60)), (12, psi(55)))
    assert fall.unexplained


def test_most_of_it_between_two_calls_is_sudden_whatever_explains_a_fall() -> None:
    fall = fall_after((1, psi(100)), (1.5, Report("damper", "shut")), (2, psi(10)))
    assert fall.sudden
    assert fall.unexplained
    assert not fall_after((1, psi(100)), (9, psi(50))).sudden


SHUT, LIFTS = Report("valve", "shut"), Report("valve", "lifting")


@pytest.mark.parametrize(
    ("told", "silent"),
    [
        (((1, psi(147)),), False),  # it is asked, and the answer awaited
        (((1, psi(147)), (2, SHUT)), True),
        (((1, psi(147)), (2, psi(148))), True),
        (((1, psi(145)), (2, psi(145))), False),  # at the lift, not over it
        (((1, psi(147)), (2, LIFTS), (3, psi(148))), False),
    ],
)
def test_a_valve_silent_over_the_lift(told: tuple[tuple[float, Report], ...], silent: bool) -> None:
    assert picture(LIT, *told).valve.silent_over_lift is silent
