"""Each manner of the practice operator departs from the plain one as its name says."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.boiler.scales import PSI_PA
from assistant.config.checklist_file import shipped_checklists
from assistant.config.engine_file import find_engine
from assistant.messages import Answer, Grade, Report
from assistant.simulator.manners import AWAY_S, MANNERS
from assistant.simulator.operator import Operator
from assistant.simulator.practice_boiler import PracticeBoiler

ENGINE = find_engine("practice").engine
LISTS = tuple(c for c in shipped_checklists() if c.phase is not None)
PSI = 80.0


def someone(manner: str, seed: int = 1) -> tuple[Operator, PracticeBoiler]:
    """In steam, at the engine."""
    boiler = PracticeBoiler(ENGINE, seed, start_gauge_pa=PSI * PSI_PA)
    boiler.step(2.0)
    return MANNERS[manner](boiler, LISTS, np.random.default_rng(seed)), boiler


def wrong_lines(who: Operator, boiler: PracticeBoiler, times: int) -> list[Report]:
    """Of so many readings of the gauge, those not as it shows."""
    shown = boiler.gauge_pressure_gauge_pa / PSI_PA
    lines = [who.reading("pressure").meaning for _ in range(times)]
    return [m for m in lines if isinstance(m, Report) and abs(float(m.value) - shown) > 5.0]


def test_who_does_nothing_is_gone_for_good_when_trouble_begins() -> None:
    who, boiler = someone("does nothing")
    assert boiler.trouble_at is not None
    assert who.is_here(boiler.trouble_at - 1.0)
    assert not who.is_here(boiler.trouble_at + 1.0)
    assert not who.comes_back(boiler.trouble_at + 1.0)


def test_who_goes_away_comes_back_after_a_quarter_of_an_hour() -> None:
    who, boiler = someone("goes away")
    assert boiler.trouble_at is not None
    times = np.arange(0.0, boiler.trouble_at + 3.0 * AWAY_S, 10.0)
    away = [at for at in times if not who.is_here(float(at))]
    assert len(away) == pytest.approx(AWAY_S / 10.0, abs=1)
    assert away[0] >= boiler.trouble_at
    assert who.comes_back(float(away[0]))


def test_one_reading_in_ten_is_wrong() -> None:
    who, boiler = someone("misreads one in ten")
    assert 60 < len(wrong_lines(who, boiler, 1000)) < 140
    right, other = someone("answers rightly")
    assert wrong_lines(right, other, 100) == []


def test_a_wrong_reading_that_is_doubted_is_denied_and_read_again() -> None:
    who, boiler = someone("misreads one in ten")
    shown = boiler.gauge_pressure_gauge_pa / PSI_PA
    for _ in range(200):
        meaning = who._call("pressure", 1e9)
        who._called_at.clear()
        assert meaning is not None
        report = meaning.meaning
        if isinstance(report, Report) and abs(float(report.value) - shown) > 5.0:
            assert who.check(report).meaning == Answer("no")
            again = who.again()
            assert again is not None
            assert isinstance(again.meaning, Report)
            assert float(again.meaning.value) == pytest.approx(shown, abs=3.0)
            return
    pytest.fail("never misread")


def test_who_does_the_wrong_thing_feeds_when_the_level_is_unknown() -> None:
    who, boiler = someone("does the wrong thing")
    line = who.alarmed("water out of sight", Grade.DANGER)
    assert line is not None
    assert line.meaning == Report("feed", "on")
    assert boiler.state("bypass") == "shut"


def test_who_does_the_wrong_thing_opens_the_blower_in_a_danger() -> None:
    who, boiler = someone("does the wrong thing")
    line = who.alarmed("over-pressure", Grade.DANGER)
    assert line is not None
    assert line.meaning == Report("blower", "open")
    assert boiler.state("blower") == "open"
